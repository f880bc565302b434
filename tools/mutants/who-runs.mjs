#!/usr/bin/env node
// Writes tools/mutants/who-runs.json: for each source file that is changed, the quickest test files that run it, golden cases left
// out; and how long each takes. One run of every test that can notice a change, without any: half an hour.
//
//   node tools/mutants/who-runs.mjs
//   node tools/mutants/who-runs.mjs --record FILE   writes what each test runs to a file, and leaves out what stands there
//   node tools/mutants/who-runs.mjs --add TEST      runs these alone, and puts them among what stands
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

import { createDrive } from './drive.mjs';
import { BROAD, LONGEST_S, PAGE_TEXTS, testsThatCan } from './related.mjs';
import { everySite } from './rooms.mjs';

/** So many tests a file are kept. */
const MOST_TESTS = 5;

const ROOT = fileURLToPath(new URL('../..', import.meta.url)).replace(/[\\/]$/, '');
const { values: options } = parseArgs({
  options: {
    record: { type: 'string' },
    partly: { type: 'boolean', default: false },
    add: { type: 'string', multiple: true, default: [] },
  },
});
/** What is known already of tests that are not run now. */
const STANDS =
  options.add.length === 0 ? null : JSON.parse(readFileSync(join(ROOT, 'tools/mutants/who-runs.json'), 'utf8'));

const sites = everySite(ROOT);
const drive = createDrive(ROOT, sites, { limitS: LONGEST_S / 6, isMarked: true });
process.on('exit', () => drive.close());
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(130));

const runs =
  options.record !== undefined && existsSync(options.record)
    ? readFileSync(options.record, 'utf8')
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line))
    : [];
const known = new Set(runs.map(({ test }) => test));
const asked = STANDS === null ? testsThatCan(ROOT).filter((test) => !known.has(test) && !options.partly) : options.add;
for (const test of asked) {
  const began = Date.now();
  let ran = [];
  let slow = [];
  try {
    ({ ran, slow } = await drive.withEach([], test));
  } catch (error) {
    console.log(`left out: ${error.message.slice(0, 200)}`);
  }
  const result = {
    test,
    seconds: (Date.now() - began) / 1000,
    slow,
    places: ran.map((place) => sites[place].key),
  };
  console.log(`${test}: ${String(result.places.length)} places, ${result.seconds.toFixed(1)} s`);
  runs.push(result);
  if (options.record !== undefined) appendFileSync(options.record, `${JSON.stringify(result)}\n`);
}

const seconds = {
  ...STANDS?.seconds,
  ...Object.fromEntries(runs.map((run) => [run.test, Math.round(run.seconds)])),
};
const slow = Object.fromEntries([
  ...Object.entries(STANDS?.slow ?? {}).filter(([test]) => !asked.includes(test)),
  ...runs.filter((run) => run.slow.length > 0).map((run) => [run.test, run.slow]),
]);
const fileOf = new Map(sites.map(({ key, file }) => [key, file]));
const filesOf = new Map(
  runs.map(({ test, places }) => [
    test,
    new Set(places.map((key) => fileOf.get(key)).filter((file) => file !== undefined)),
  ]),
);
const ofFile = (file) =>
  [
    ...runs.filter(({ test }) => filesOf.get(test).has(file)).map(({ test }) => test),
    ...(STANDS?.runs[file] ?? []).filter((test) => !asked.includes(test)),
  ]
    .filter((test) => exact(test) <= LONGEST_S || test === PAGE_TEXTS)
    .sort((a, b) => exact(a) - exact(b))
    .filter((test, place) => place < MOST_TESTS || test === PAGE_TEXTS || BROAD.includes(test));
/** Seconds, whole ones of what stood before. */
const exact = (test) => runs.find((run) => run.test === test)?.seconds ?? seconds[test];
const files = [...new Set(sites.map(({ file }) => file))];
writeFileSync(
  join(ROOT, 'tools/mutants/who-runs.json'),
  `${JSON.stringify({ seconds, slow, runs: Object.fromEntries(files.map((file) => [file, ofFile(file)])) }, null, 2)}\n`,
);
drive.close();
