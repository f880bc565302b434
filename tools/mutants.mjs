#!/usr/bin/env node
// Tests of the tests: makes one small change at a time in a copy of the code in memory, runs the tests that hold it, and says
// which changes none of them notices.
//
//   node tools/mutants.mjs                      the sample that every change is checked with
//   node tools/mutants.mjs --sample 100 --seed 7
//   node tools/mutants.mjs --under src/core/quality --all
//   node tools/mutants.mjs --far                also every other test that reaches the file, where the near ones say nothing
//   node tools/mutants.mjs --again              also what is listed as surviving: one that no longer does fails
//   node tools/mutants.mjs --list               the changes, without a run
//
// What holds a file: the tests that import it, those of its room that reach it, and the golden cases that run the changed line.
// tools/mutants/survivors.json lists changes that nothing can or need notice, each with its reason: one that survives and is not
// listed fails.
import { fork } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

import { createTestsFor, filesBelow } from './mutants/related.mjs';
import { shuffled, sitesOf } from './mutants/sites.mjs';

const ROOT = fileURLToPath(new URL('..', import.meta.url)).replace(/[\\/]$/, '');
const ROOMS = ['src/tasks', 'src/io/tables', 'src/core/observation', 'src/core/quality', 'src/core/geoid'];
const CASES = 'tests/cases.test.ts';
/** A run that takes longer than this has not ended: seconds. The longest test file takes half of it. */
const LIMIT_S = 60;

const { values: options } = parseArgs({
  options: {
    sample: { type: 'string', default: '30' },
    seed: { type: 'string', default: '1' },
    under: { type: 'string', multiple: true },
    all: { type: 'boolean', default: false },
    far: { type: 'boolean', default: false },
    again: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
  },
});

const files = ROOMS.flatMap((room) => filesBelow(ROOT, room, '.ts')).filter(
  (file) => options.under === undefined || options.under.some((part) => file.startsWith(part)),
);
const everySite = files.flatMap((file) => sitesOf(file, readFileSync(join(ROOT, file), 'utf8')));
const order = shuffled(everySite, options.seed);
const sites = options.all ? order : order.slice(0, Number(options.sample));
const listed = JSON.parse(readFileSync(join(ROOT, 'tools/mutants/survivors.json'), 'utf8'));
const reasonOf = (site) =>
  listed.find(({ file, line, change }) => file === site.file && line === site.text && change === site.change)?.why;
const place = (site) => `${site.file}:${String(site.line)}: ${site.change}   in   ${site.text}`;

console.log(
  `${String(sites.length)} of ${String(everySite.length)} changes in ${String(files.length)} files, seed ${options.seed}`,
);
if (options.list) {
  for (const site of sites) console.log(place(site));
  process.exit(0);
}

const scratch = mkdtempSync(join(tmpdir(), 'pegbook-mutants-'));
let runner = null;

/** One message and its answer; null where none came in time, and the process has been ended. */
async function ask(message, limitS = LIMIT_S) {
  if (runner === null) {
    runner = fork(join(ROOT, 'tools/mutants/runner.mjs'), [ROOT, join(scratch, 'reach')], { detached: true });
    await ask({ kind: 'open', sites });
  }
  const child = runner;
  child.send(message);
  const answer = await new Promise((resolve) => {
    const timer = setTimeout(() => resolve(null), limitS * 1000);
    child.once('message', (got) => {
      clearTimeout(timer);
      resolve(got);
    });
    child.once('exit', () => {
      clearTimeout(timer);
      resolve(null);
    });
  });
  if (answer === null) {
    end();
    return null;
  }
  child.removeAllListeners('exit');
  if (!answer.ok) throw new Error(answer.message);
  return answer;
}

/** Ends the process that we started, and the workers of its group. */
function end() {
  if (runner?.pid !== undefined && runner.exitCode === null)
    try {
      process.kill(process.platform === 'win32' ? runner.pid : -runner.pid, 'SIGKILL');
    } catch {
      // It ended by itself.
    }
  runner = null;
}

process.on('exit', () => {
  end();
  rmSync(scratch, { recursive: true, force: true });
});
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(130));

const dry = await ask({ kind: 'reach', tests: [CASES] }, 1200);
if (dry === null || dry.failed.length > 0)
  throw new Error(`golden cases fail before any change: ${dry?.failed.join(', ') ?? 'no answer'}`);
const casesOf = (number) => {
  const names = [];
  for (const { byTest, onLoad } of dry.reach) {
    if (onLoad.includes(number)) return Object.keys(byTest);
    for (const [name, places] of Object.entries(byTest)) if (places.includes(number)) names.push(name);
  }
  return names;
};

const testsFor = createTestsFor(ROOT);
async function killerOf(number) {
  const { near, far } = testsFor(sites[number].file);
  const names = casesOf(number);
  const rounds = [
    ...near.map((test) => ({ tests: [test], names: null })),
    ...(names.length === 0 ? [] : [{ tests: [CASES], names }]),
    ...(options.far ? far.map((test) => ({ tests: [test], names: null })) : []),
  ];
  for (const round of rounds) {
    const answer = await ask({ kind: 'run', active: number, ...round });
    if (answer === null) return 'it never ended';
    if (answer.failed.length > 0) return `${round.tests[0]}: ${answer.failed[0]}`;
  }
  return null;
}

let killed = 0;
const wrong = [];
let known = 0;
for (const [number, site] of sites.entries()) {
  const began = Date.now();
  if (!options.again && reasonOf(site) !== undefined) {
    known += 1;
    console.log(`listed as a survivor, not run: ${place(site)}`);
    continue;
  }
  const killer = await killerOf(number);
  const reason = reasonOf(site);
  const took = `${((Date.now() - began) / 1000).toFixed(1)} s`;
  if (killer !== null) killed += 1;
  else if (reason !== undefined) known += 1;
  console.log(
    `${killer === null ? (reason === undefined ? 'SURVIVES' : 'survives, listed') : 'killed'} (${took}) ${place(site)}${killer === null ? '' : `\n    by ${killer}`}`,
  );
  if (killer === null && reason === undefined) wrong.push(`survives and is not listed: ${place(site)}`);
  if (killer !== null && reason !== undefined) wrong.push(`is listed and no longer survives: ${place(site)}`);
}
end();

const percent = (part, whole) => (whole === 0 ? '–' : `${((100 * part) / whole).toFixed(1)} %`);
console.log(
  `${String(killed)} of ${String(sites.length)} killed, ${percent(killed, sites.length)}; ${String(known)} survive and are listed with a reason; without those ${percent(killed, sites.length - known)}`,
);
for (const text of wrong) console.log(text);
process.exit(wrong.length > 0 ? 1 : 0);
