#!/usr/bin/env node
// Tests of the tests: makes one small change at a time in a copy of the code in memory, runs the tests that hold it, and says
// which changes none of them notices.
//
//   node tools/mutants.mjs                      the sample that every change is checked with
//   node tools/mutants.mjs --sample 100 --seed 7
//   node tools/mutants.mjs --under src/core/quality --all
//   node tools/mutants.mjs --fresh --seed X     a sample for the score alone: what survives unlisted is said, and does not fail
//   node tools/mutants.mjs --again              also what is listed as surviving: one that no longer does fails
//   node tools/mutants.mjs --near               without the tests of other rooms
//   node tools/mutants.mjs --record FILE        writes each result to a file, and leaves out what stands there: a long run in parts
//   node tools/mutants.mjs --minutes 20         begins nothing more after so long
//   node tools/mutants.mjs --limit 60           takes a change for killed whose tests have not ended after so many seconds
//   node tools/mutants.mjs --list               the changes, without a run
//
// What holds a file: the tests that import it, those of its room that reach it, and the golden cases that run the changed line.
// What these let through is put to every other test that runs the line.
// tools/mutants/survivors.json lists changes that nothing can or need notice, each with its reason: one that survives and is not
// listed fails. tools/mutants/floor.json has the shares that are to be killed, in all and room by room; listed ones count as
// survivors there.
import { fork } from 'node:child_process';
import { appendFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

import { createTestsFor, filesBelow } from './mutants/related.mjs';
import { belowFloors, interval } from './mutants/score.mjs';
import { shuffled, sitesOf } from './mutants/sites.mjs';

const ROOT = fileURLToPath(new URL('..', import.meta.url)).replace(/[\\/]$/, '');
const ROOMS = ['src/tasks', 'src/io/tables', 'src/core/observation', 'src/core/quality', 'src/core/geoid'];
const CASES = 'tests/cases.test.ts';

const { values: options } = parseArgs({
  options: {
    sample: { type: 'string', default: '30' },
    seed: { type: 'string', default: '1' },
    under: { type: 'string', multiple: true },
    all: { type: 'boolean', default: false },
    near: { type: 'boolean', default: false },
    fresh: { type: 'boolean', default: false },
    record: { type: 'string' },
    minutes: { type: 'string', default: '600' },
    again: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
    limit: { type: 'string', default: '300' },
  },
});

/** A run that takes longer than this has not ended: seconds. The longest test file takes a tenth of the usual, on a machine that is not busy. */
const LIMIT_S = Number(options.limit);

const files = ROOMS.flatMap((room) => filesBelow(ROOT, room, '.ts')).filter(
  (file) => options.under === undefined || options.under.some((part) => file.startsWith(part)),
);
const everySite = files.flatMap((file) => sitesOf(file, readFileSync(join(ROOT, file), 'utf8')));
const order = shuffled(everySite, options.seed);
const sites = options.all ? order : order.slice(0, Number(options.sample));
const listed = JSON.parse(readFileSync(join(ROOT, 'tools/mutants/survivors.json'), 'utf8'));
const reasonOf = (site) =>
  listed.find(({ file, line, change }) => file === site.file && line === site.text && change === site.change)?.why;
/** As a person finds it. */
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

/** The tests that run each change: from one run without any, in which each says where it has been. */
async function reachOf(tests) {
  const dry = await ask({ kind: 'reach', tests }, 1800);
  if (dry === null || dry.failed.length > 0)
    throw new Error(`tests fail before any change: ${dry?.failed.join(', ') ?? 'no answer'}`);
  return dry.reach;
}

const roomOf = (site) => ROOMS.find((room) => site.file.startsWith(`${room}/`));
const record = options.record;
const done = new Map(
  record !== undefined && existsSync(record)
    ? readFileSync(record, 'utf8')
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line))
        .map((result) => [result.key, result])
    : [],
);
const results = [];
function say(site, killer, took, stage) {
  const reason = reasonOf(site);
  const isKilled = killer !== null;
  const word = isKilled ? 'killed' : reason === undefined ? 'SURVIVES' : 'survives, listed';
  console.log(`${word} (${(took / 1000).toFixed(1)} s${stage}) ${place(site)}${isKilled ? `\n    by ${killer}` : ''}`);
  const result = { key: site.key, room: roomOf(site), file: site.file, isKilled, killer };
  results.push({ ...result, site });
  if (record !== undefined) appendFileSync(record, `${JSON.stringify(result)}\n`);
}

async function firstThatFails(number, rounds) {
  for (const round of rounds) {
    const answer = await ask({ kind: 'run', active: number, ...round });
    if (answer === null) return 'it never ended';
    if (answer.failed.length > 0) return `${round.tests[0]}: ${answer.failed[0]}`;
  }
  return null;
}

const testsFor = createTestsFor(ROOT);
const whole = (tests) => tests.map((test) => ({ tests: [test], names: null }));
const caseReach = await reachOf([CASES]);
function casesOf(number) {
  const names = [];
  for (const { byTest, onLoad } of caseReach) {
    if (onLoad.includes(number)) return Object.keys(byTest);
    for (const [name, places] of Object.entries(byTest)) if (places.includes(number)) names.push(name);
  }
  return names;
}

const began = Date.now();
const isLate = () => Date.now() - began > 60_000 * Number(options.minutes);
const waiting = [];
for (const [number, site] of sites.entries()) {
  const known = done.get(site.key);
  if (known !== undefined) {
    results.push({ ...known, site });
    continue;
  }
  if (isLate()) continue;
  const start = Date.now();
  if (!options.again && reasonOf(site) !== undefined) {
    say(site, null, 0, ', not run');
    continue;
  }
  const names = casesOf(number);
  const killer = await firstThatFails(number, [
    ...whole(testsFor(site.file).near),
    ...(names.length === 0 ? [] : [{ tests: [CASES], names }]),
  ]);
  if (killer === null && !options.near) waiting.push([number, Date.now() - start]);
  else say(site, killer, Date.now() - start, '');
}

// What is left: one run of all the tests of other rooms that could notice says which of them run the line.
const others = [...new Set(waiting.flatMap(([number]) => testsFor(sites[number].file).far))].sort();
const farReach = others.length === 0 ? [] : await reachOf(others);
for (const [number, before] of waiting) {
  const start = Date.now();
  const far = farReach
    .filter(({ byTest, onLoad }) => onLoad.includes(number) || Object.values(byTest).some((at) => at.includes(number)))
    .map(({ file }) => file);
  say(
    sites[number],
    await firstThatFails(number, whole(far)),
    before + Date.now() - start,
    `, ${String(far.length)} far`,
  );
}
end();

const percent = (share) => `${(100 * share).toFixed(1)} %`;
function summary(name, own) {
  const killed = own.filter(({ isKilled }) => isKilled).length;
  const listedToo = own.filter(({ isKilled, site }) => !isKilled && reasonOf(site) !== undefined).length;
  const { low, high } = interval(killed, own.length);
  return `${name}: ${String(killed)} of ${String(own.length)} killed, ${percent(own.length === 0 ? 0 : killed / own.length)} (95 %: ${percent(low)} to ${percent(high)}); ${String(listedToo)} survive and are listed with a reason`;
}
for (const room of ROOMS)
  console.log(
    summary(
      room,
      results.filter((result) => result.room === room),
    ),
  );
console.log(summary('all', results));

const floors = JSON.parse(readFileSync(join(ROOT, 'tools/mutants/floor.json'), 'utf8'));
const wrong = belowFloors(
  results,
  floors,
  options.all && options.under === undefined && results.length === sites.length,
);
for (const { site, isKilled } of results) {
  const isListed = reasonOf(site) !== undefined;
  if (!isKilled && !isListed && !options.fresh) wrong.push(`survives and is not listed: ${place(site)}`);
  if (isKilled && isListed) wrong.push(`is listed and no longer survives: ${place(site)}`);
}
for (const text of wrong) console.log(text);
process.exit(wrong.length > 0 ? 1 : 0);
