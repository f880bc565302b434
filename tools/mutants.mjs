#!/usr/bin/env node
// Tests of the tests: makes one small change at a time in a copy of the code in memory, runs the tests that could notice it, and
// says which changes none of them does.
//
//   node tools/mutants.mjs                      thirty changes
//   node tools/mutants.mjs --sample 100 --seed 7
//   node tools/mutants.mjs --each 24            so many of each room
//   node tools/mutants.mjs --seed code          a sample that changes with the code, and is the same for the same code
//   node tools/mutants.mjs --under src/core/quality --all
//   node tools/mutants.mjs --fresh --seed X     for the score alone: what survives unlisted is said, and does not fail
//   node tools/mutants.mjs --again              also what is listed as surviving: one that no longer does fails
//   node tools/mutants.mjs --near               without the tests of other rooms, the golden cases apart
//   node tools/mutants.mjs --long               with the tests of the room that take long, too: simulations, mostly
//   node tools/mutants.mjs --batch 20           so many changes to one round of tests: what is not ended counts for nothing
//   node tools/mutants.mjs --record FILE        writes each result to a file, and leaves out what stands there: a long run in parts
//   node tools/mutants.mjs --minutes 20         begins no test after so long; the round that is not ended counts for nothing
//   node tools/mutants.mjs --lanes 1            so many processes at once; as many as there are processors, four at most
//   node tools/mutants.mjs --limit 60           takes a change for killed whose test has not ended after so many seconds
//   node tools/mutants.mjs --list               the changes, without a run
//
// Which tests: mutants/related.mjs. How: mutants/many.mjs. What nothing can or need notice is listed in mutants/survivors.json,
// each with its reason: one that survives and is not listed fails. mutants/floor.json has the shares that are to be killed, in all
// and room by room, of those that could change anything: listed ones without effect do not count.
import { createHash } from 'node:crypto';
import { appendFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

import { createDrive } from './mutants/drive.mjs';
import { createSlowTests, createTestsFor } from './mutants/related.mjs';
import { ROOMS, everySite, roomOf } from './mutants/rooms.mjs';
import { createRound } from './mutants/round.mjs';
import { belowFloors, interval } from './mutants/score.mjs';
import { drawn } from './mutants/sites.mjs';

const ROOT = fileURLToPath(new URL('..', import.meta.url)).replace(/[\\/]$/, '');

/** Each process holds a compiler and a day of tests: more than so many ask for more memory than they save time. */
const MOST_LANES = 4;

const { values: options } = parseArgs({
  options: {
    sample: { type: 'string', default: '30' },
    each: { type: 'string' },
    seed: { type: 'string', default: '1' },
    under: { type: 'string', multiple: true },
    all: { type: 'boolean', default: false },
    near: { type: 'boolean', default: false },
    long: { type: 'boolean', default: false },
    fresh: { type: 'boolean', default: false },
    record: { type: 'string' },
    batch: { type: 'string', default: '120' },
    minutes: { type: 'string', default: '6000' },
    again: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
    limit: { type: 'string', default: '60' },
    lanes: { type: 'string', default: String(Math.min(MOST_LANES, availableParallelism())) },
  },
});

const every = everySite(ROOT, options.under);
const codeSeed = () =>
  createHash('sha256')
    .update(every.map(({ key }) => key).join())
    .digest('hex')
    .slice(0, 12);
const seed = options.seed === 'code' ? codeSeed() : options.seed;
const sites = drawn(every, seed, {
  most: options.all ? every.length : Number(options.sample),
  each: options.each === undefined ? null : { most: Number(options.each), of: roomOf },
});
const listed = JSON.parse(readFileSync(join(ROOT, 'tools/mutants/survivors.json'), 'utf8'));
const entryOf = (site) =>
  listed.find(({ file, line, change }) => file === site.file && line === site.text && change === site.change);
/** As a person finds it. */
const place = (site) => `${site.file}:${String(site.line)}: ${site.change}   in   ${site.text}`;

console.log(`${String(sites.length)} of ${String(every.length)} changes, seed ${seed}`);
if (options.list) {
  for (const site of sites) console.log(place(site));
  process.exit(0);
}

const record = options.record;
const done = new Map(
  record !== undefined && existsSync(record)
    ? readFileSync(record, 'utf8')
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => JSON.parse(line))
        .map((result) => [result.key, result])
    : [],
);
const results = [];
function say(site, killer) {
  const entry = entryOf(site);
  const word = killer !== null ? 'killed' : entry === undefined ? 'SURVIVES' : `survives, listed: ${entry.kind}`;
  console.log(`${word} ${place(site)}${killer === null ? '' : `\n    by ${killer}`}`);
  const result = { key: site.key, room: roomOf(site), file: site.file, isKilled: killer !== null, killer };
  results.push({ ...result, site });
  if (record !== undefined) appendFileSync(record, `${JSON.stringify(result)}\n`);
}

// The geoid that is built in comes with the build: without it golden cases fail by themselves, and notice nothing.
if (!existsSync(join(ROOT, 'dist'))) {
  console.log('the program is not built: npm run build');
  process.exit(2);
}
const began = Date.now();
const isLate = () => Date.now() - began > 60_000 * Number(options.minutes);
const waiting = [];
for (const site of sites) {
  const known = done.get(site.key);
  if (known !== undefined) results.push({ ...known, site });
  else if (!options.again && entryOf(site) !== undefined) say(site, null);
  else waiting.push(site);
}
const testsFor = createTestsFor(ROOT);
let drives = [];
const closeDrives = () => {
  for (const drive of drives) drive.close();
};
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-mutants-'));
process.on('exit', () => {
  closeDrives();
  rmSync(scratch, { recursive: true, force: true });
});
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(130));
const batch = Number(options.batch);
for (let from = 0; from < waiting.length && !isLate(); from += batch) {
  const own = waiting.slice(from, from + batch);
  const noticed = join(scratch, `noticed-${String(from)}`);
  drives = Array.from({ length: Number(options.lanes) }, () =>
    createDrive(ROOT, own, { limitS: Number(options.limit), noticed }),
  );
  const killers = await createRound(own, {
    drives,
    testsFor,
    slowTests: createSlowTests(ROOT),
    isLate,
    isNear: options.near,
    isLong: options.long,
    tell: (line) => {
      console.error(line);
    },
  }).run();
  closeDrives();
  if (killers === null) sayUnended(own, noticed);
  else for (const [number, site] of own.entries()) say(site, killers.get(number) ?? null);
}

/** Of a round that was cut short: what had been noticed by then, and what had not. */
function sayUnended(own, noticed) {
  const known = new Set(existsSync(noticed) ? readFileSync(noticed, 'utf8').trim().split('\n').map(Number) : []);
  console.log(`no time for the last ${String(own.length)} that were begun; ${String(known.size)} were noticed by then`);
  for (const [number, site] of own.entries()) if (!known.has(number)) console.log(`not noticed so far ${place(site)}`);
}

const percent = (share) => `${(100 * share).toFixed(1)} %`;
const counted = results.filter(({ site, isKilled }) => isKilled || entryOf(site)?.kind !== 'equivalent');
function summary(name, is) {
  const own = counted.filter(is);
  const killed = own.filter(({ isKilled }) => isKilled).length;
  const without = results.filter(is).length - own.length;
  const { low, high } = interval(killed, own.length);
  return `${name}: ${String(killed)} of ${String(own.length)} killed, ${percent(own.length === 0 ? 0 : killed / own.length)} (95 %: ${percent(low)} to ${percent(high)}); ${String(without)} more are without effect`;
}
for (const room of ROOMS) console.log(summary(room, (result) => result.room === room));
console.log(summary('all', () => true));

const floors = JSON.parse(readFileSync(join(ROOT, 'tools/mutants/floor.json'), 'utf8'));
const wrong = belowFloors(
  counted,
  floors,
  options.all && options.under === undefined && results.length === sites.length,
);
for (const { site, isKilled } of results) {
  const isListed = entryOf(site) !== undefined;
  if (!isKilled && !isListed && !options.fresh) wrong.push(`survives and is not listed: ${place(site)}`);
  if (isKilled && isListed) wrong.push(`is listed and no longer survives: ${place(site)}`);
}
if (results.length === 0) wrong.push('nothing was tried to its end');
for (const text of wrong) console.log(text);
process.exit(wrong.length > 0 ? 1 : 0);
