// Measures how often every word that Pegbook says is right and how often it is not, on invented surveys of its own making.
//   npm run rates -- [--quick] [--scale X] [--seed N] [--parts a,b] [--jobs TEXT] [--product FOLDER] [--json FILE] [--page FILE] [--date YYYY-MM-DD]
// The same seed and scale give the same tables. The product is the built one of this checkout unless --product says otherwise.
import { fork } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { judgeBounds } from './bounds.mjs';
import { pageOf } from './page.mjs';
import { PARTS, jobsOf } from './parts.mjs';

const HERE = dirname(fileURLToPath(import.meta.url));
const ROOT = resolve(HERE, '../..');

const { values } = parseArgs({
  options: {
    quick: { type: 'boolean', default: false },
    scale: { type: 'string', default: '1' },
    seed: { type: 'string', default: '20260304' },
    parts: { type: 'string', default: '' },
    jobs: { type: 'string', default: '' },
    product: { type: 'string', default: ROOT },
    json: { type: 'string', default: '' },
    page: { type: 'string', default: '' },
    date: { type: 'string', default: '' },
    processes: { type: 'string', default: String(Math.min(2, availableParallelism())) },
  },
});
const settings = {
  isQuick: values.quick,
  scale: Number(values.scale) * (values.quick ? 0.1 : 1),
  seed: Number(values.seed),
};
const wanted = values.parts === '' ? PARTS.map(({ name }) => name) : values.parts.split(',');
const ids = jobsOf(settings, wanted)
  .map(({ id }) => id)
  .filter((id) => id.includes(values.jobs));

const started = performance.now();
const results = await measureAll(ids);
const seconds = (performance.now() - started) / 1000;
if (values.json !== '')
  writeFileSync(values.json, `${JSON.stringify({ seed: settings.seed, scale: settings.scale, results }, null, 1)}\n`);
const before = JSON.parse(readFileSync(resolve(HERE, 'before.json'), 'utf8'));
const page = pageOf({
  parts: PARTS.filter(({ name }) => wanted.includes(name)),
  results,
  before,
  settings,
  date: dateOf(values.date),
});
// The page in the repository is that of the whole run at its full counts.
const isWhole =
  values.page === '' &&
  !values.quick &&
  settings.scale === 1 &&
  ids.length ===
    jobsOf(
      settings,
      PARTS.map(({ name }) => name),
    ).length;
if (isWhole) writeFileSync(resolve(ROOT, 'docs/methods/decision-rates.md'), page);
else if (values.page === '') process.stdout.write(page);
else writeFileSync(values.page, page);
process.stderr.write(`${ids.length} jobs in ${seconds.toFixed(0)} s, seed ${settings.seed}, scale ${settings.scale}\n`);
if (values.quick) process.exitCode = judgeBounds(results, (line) => process.stderr.write(`${line}\n`)) ? 0 : 1;

/** The day printed on the page: as given, else of SOURCE_DATE_EPOCH, else today. */
function dateOf(given) {
  if (given !== '') return given;
  const epoch = process.env.SOURCE_DATE_EPOCH;
  return epoch === undefined
    ? new Date().toISOString().slice(0, 10)
    : new Date(1000 * Number(epoch)).toISOString().slice(0, 10);
}

/** Every job in one of a few processes, each asking for the next when it is done; results in the order of the jobs. */
async function measureAll(list) {
  const found = new Map();
  let next = 0;
  const work = () =>
    new Promise((done, failed) => {
      const child = fork(resolve(HERE, 'worker.mjs'), [
        JSON.stringify({ ...settings, product: resolve(values.product) }),
      ]);
      const give = () => {
        if (next < list.length) child.send(list[next++]);
        else child.send(null);
      };
      child.on('message', (message) => {
        if (message !== null) {
          found.set(message.id, message.result);
          process.stderr.write(`${message.id} ${(message.ms / 1000).toFixed(1)} s\n`);
        }
        give();
      });
      child.on('exit', (code) =>
        code === 0 ? done() : failed(new Error(`a process of the simulation ended with ${code}`)),
      );
    });
  await Promise.all(Array.from({ length: Math.max(1, Math.min(Number(values.processes), list.length)) }, work));
  return Object.fromEntries(list.map((id) => [id, found.get(id)]));
}
