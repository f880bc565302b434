// Runs before each test file: which change is active, and how often each place is asked for.
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { setMaxListeners } from 'node:events';
import { afterAll, beforeAll, inject } from 'vitest';

const { active, alive, skipped, only, isThin, part, size, journal, now, noticed } = inject('mutants');

// Each run of a test listens once more for its end, and each test is run many times.
setMaxListeners(0);

/** A test that takes longer is a simulation, and is not asked of single changes. */
const SLOW_MS = 8000;
/** A change that is asked for so much more often than its place is without it is in a loop that does not end. */
const MOST_TIMES = 50;
/** So often it may be asked for in any case, and in a run that has not been made without it. */
const ALWAYS_CALLS = 1e6;
const UNKNOWN_CALLS = 3e8;

const counts = new Float64Array(size);
let calls = 0;
let mostCalls = UNKNOWN_CALLS;
const onLoad = new Set();
const byHooks = new Set();
const inTests = new Set();
const noteIn = (places) => {
  for (const [place, times] of counts.entries()) if (times > 0) places.add(place);
  counts.fill(0);
};

const state = {
  active,
  alive: new Set(alive),
  skipped: new Set(skipped),
  only,
  slowMs: SLOW_MS,
  isThin,
  part,
  /** How many tests each change has been tried with, and how many tests there were. */
  tries: new Map(),
  count: 0,
  at(place) {
    if (place !== state.active) {
      counts[place] += 1;
      return false;
    }
    calls += 1;
    if (calls > mostCalls) throw new Error('it never ends');
    return true;
  },
  /** What was run until now was so by what goes before and after tests. */
  begin: () => noteIn(byHooks),
  /** What the test that has just run asked for, and how often. */
  end() {
    const found = new Map();
    for (const [place, times] of counts.entries())
      if (times > 0) {
        found.set(place, times);
        inTests.add(place);
      }
    return found;
  },
  activate(place, times, ms) {
    calls = 0;
    mostCalls = ALWAYS_CALLS + MOST_TIMES * times;
    state.active = place;
    writeFileSync(now, JSON.stringify({ place, ms }));
  },
  /** Whether the change that is being made was asked for: what a file computes once, when a test first loads it, is not again. */
  wasAsked: () => calls > 0,
  rest() {
    state.active = -1;
    counts.fill(0);
    writeFileSync(now, '');
  },
  /** Changes that a test has noticed need no other test, of whichever process. */
  notice(place) {
    state.alive.delete(place);
    if (noticed !== '') appendFileSync(noticed, `${String(place)}\n`);
  },
  learn() {
    if (noticed === '' || !existsSync(noticed)) return;
    for (const line of readFileSync(noticed, 'utf8').split('\n')) if (line !== '') state.alive.delete(Number(line));
  },
  note: (what) => appendFileSync(journal, `${JSON.stringify(what)}\n`),
};
globalThis.mutants = state;

beforeAll(() => noteIn(onLoad));
afterAll(() => {
  if (active >= 0) return;
  state.begin();
  const outside = new Set([...onLoad, ...byHooks]);
  state.note({ kind: 'places', outside: [...outside], ran: [...new Set([...inTests, ...byHooks])] });
});
