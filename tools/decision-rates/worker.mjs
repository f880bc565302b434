// One process of the simulation: takes the name of a job, sends back what was counted.
import { openProduct } from './product.mjs';
import { PARTS, jobsOf } from './parts.mjs';

const settings = JSON.parse(process.argv[2]);
const jobs = new Map(
  jobsOf(
    settings,
    PARTS.map(({ name }) => name),
  ).map((job) => [job.id, job]),
);
const product = await openProduct(settings.product);

process.on('message', (id) => void answer(id));
process.send(null);

async function answer(id) {
  if (id === null) {
    product.close();
    process.disconnect();
    return;
  }
  const started = performance.now();
  try {
    const result = await jobs.get(id).run(product, settings);
    process.send({ id, result, ms: performance.now() - started });
  } catch (error) {
    process.stderr.write(`${id}: ${error.stack}\n`);
    product.close();
    process.exit(1);
  }
}
