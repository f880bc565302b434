// node tools/two-ways.mjs [--cases 4000 --seed 1 --kind fixes --workers 1]
// Runs the cases of the fuzz corpus (tools/fuzz) the general way and the fast way (src/io/host/way.ts) and compares every byte: what is
// printed, what is said, the exit code, and every file that was written. Ends with 1 where they differ. A case is told by its kind and
// seed; the same pair gives the same case again.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const { values } = parseArgs({
  options: {
    cases: { type: 'string', default: '4000' },
    seed: { type: 'string', default: '1' },
    kind: { type: 'string', default: '' },
  },
});
const WORKER = fileURLToPath(new URL('fuzz/way-worker.mjs', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'pegbook-ways-'));

/** What each case gave, one a line. */
function casesOf(way) {
  const out = join(folder, `${way}.jsonl`);
  const { status } = spawnSync(process.execPath, [WORKER, out, values.cases, values.seed, values.kind], {
    stdio: 'inherit',
    env: { ...process.env, PEGBOOK_WAY: way },
  });
  if (status !== 0) throw new Error(`the ${way} way ended with ${status}`);
  return readFileSync(out, 'utf8').trimEnd().split('\n');
}

try {
  const [general, fast] = ['general', 'fast'].map(casesOf);
  let differ = general.length === fast.length ? 0 : 1;
  general.forEach((line, index) => {
    if (line === fast[index]) return;
    differ += 1;
    const [a, b] = [line, fast[index] ?? '{}'].map((text) => JSON.parse(text));
    const parts = Object.keys(a.outputs ?? {}).filter((name) => a.outputs[name] !== b.outputs?.[name]);
    console.log(`DIFFERS ${a.kind} seed ${a.seed}: pegbook ${a.argv.join(' ')}`);
    for (const name of parts)
      console.log(`  ${name}\n    general: ${a.outputs[name]}\n    fast:    ${b.outputs?.[name]}`);
  });
  console.log(`two ways: ${general.length} cases, ${differ} differ`);
  process.exitCode = differ === 0 && general.length > 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
