// npm run fuzz [-- --cases 100000 --seed 1 --kind session --workers 2]
// Damages real inputs of every kind and runs the program on them. A case is told by its kind and seed; the same pair
// gives the same case again. Ends with 1 when a case crashed, hung, ended with an exit code outside the table, printed
// what it should not, left something behind, or memory grew.
import { fork } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import process from 'node:process';
import { COMMANDS } from '../dist/cli/shell/program.js';
import { kindNames } from './fuzz/fuzz-cases.mjs';

const { values } = parseArgs({
  options: {
    cases: { type: 'string', default: '100000' },
    seed: { type: 'string', default: '1' },
    kind: { type: 'string' },
    workers: { type: 'string', default: '2' },
  },
});
const WORKER = fileURLToPath(new URL('fuzz/worker.mjs', import.meta.url));
const HANG_MS = 30_000;
const SLOW_S = 2;
const RANGE = 500;
const GROWTH_BYTES = 32 << 20;
/** Memory of the process that a single case may ask for beyond all before it. */
const PEAK_KIB = 256 << 10;
const firstSeed = Number(values.seed);
const kinds = values.kind === undefined ? kindNames(COMMANDS) : [values.kind];
const each = Math.ceil(Number(values.cases) / kinds.length);

const queue = [];
for (let done = 0; done < each; done += RANGE)
  for (const kind of kinds) queue.push({ kind, first: firstSeed + done, count: Math.min(RANGE, each - done) });
const exits = new Map(kinds.map((kind) => [kind, new Map()]));
const faults = [];
let cases = 0;

function note(kind, seed, fault, argv = []) {
  faults.push({ kind, seed, fault });
  console.log(
    `FAULT ${kind} seed ${seed}: ${fault}\n      pegbook ${argv.map((word) => JSON.stringify(word.length > 200 ? `${word.slice(0, 200)}…` : word)).join(' ')}`,
  );
}

function runWorker() {
  return new Promise((resolve) => {
    // Memory-backed where there is one: the disk is not what is tried here.
    const env = { ...process.env, ...(existsSync('/dev/shm') && { FUZZ_FOLDER: '/dev/shm' }) };
    const child = fork(WORKER, [], {
      execArgv: ['--expose-gc', '--max-old-space-size=512'],
      env,
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    });
    let current = null;
    let range = null;
    let watch = null;
    let hung = false;
    const heaps = [];
    const next = () => {
      range = queue.shift() ?? null;
      if (range === null) child.disconnect();
      else child.send(range);
    };
    child.on('message', (message) => {
      clearTimeout(watch);
      if (message.type === 'start') {
        current = message;
        watch = setTimeout(() => {
          hung = true;
          child.kill('SIGKILL');
        }, HANG_MS);
      } else if (message.type === 'case') {
        current = null;
        cases += 1;
        const counts = exits.get(message.kind);
        counts.set(message.exit, (counts.get(message.exit) ?? 0) + 1);
        if (message.fault !== null) note(message.kind, message.seed, message.fault, message.argv);
        else if (message.roseKib > PEAK_KIB)
          note(
            message.kind,
            message.seed,
            `took ${Math.round(message.roseKib / 1024)} MiB more than any case before`,
            message.argv,
          );
        else if (message.seconds > SLOW_S)
          note(message.kind, message.seed, `took ${message.seconds.toFixed(1)} s of processor time`, message.argv);
      } else {
        if (message.type === 'range') heaps.push(message.heapBytes);
        next();
      }
    });
    child.on('exit', (code, signal) => {
      clearTimeout(watch);
      // The rest of the range goes to the worker that takes this one's place.
      if (current !== null && range !== null && current.seed + 1 < range.first + range.count)
        queue.unshift({ ...range, first: current.seed + 1, count: range.first + range.count - current.seed - 1 });
      if (current !== null)
        note(
          current.kind,
          current.seed,
          hung ? `no end within ${HANG_MS / 1000} s` : `ended the process (${String(code ?? signal)})`,
        );
      // The first third loads what is loaded once; after it the heap should stay where it is.
      const third = Math.floor(heaps.length / 3);
      if (third >= 3) {
        const growth = Math.min(...heaps.slice(-third)) - Math.max(...heaps.slice(third, 2 * third));
        if (growth > GROWTH_BYTES)
          note('memory', 0, `the heap grew by ${growth} bytes from the second third of the run to the last`);
        console.log(
          `heap after collection, MiB: ${[heaps[third], heaps.at(-1)].map((bytes) => (bytes / 1048576).toFixed(1)).join(' at a third of the run, ')} at its end`,
        );
      }
      if (current === null) resolve();
      else resolve(runWorker());
    });
  });
}

console.log(`fuzz: ${each} cases each of ${kinds.join(', ')}; seeds from ${firstSeed}`);
await Promise.all(Array.from({ length: Number(values.workers) }, runWorker));
for (const [kind, counts] of exits) {
  const total = [...counts.values()].reduce((sum, count) => sum + count, 0);
  console.log(
    `${kind.padEnd(20)} ${String(total).padStart(7)} cases; exit ${[...counts]
      .sort(([a], [b]) => a - b)
      .map(([exit, count]) => `${exit}: ${count}`)
      .join(', ')}`,
  );
}
console.log(`fuzz: ${cases} cases, ${faults.length} faults`);
process.exitCode = faults.length === 0 ? 0 : 1;
