import { BROAD, CASES, PAGE_TEXTS } from './related.mjs';

/**
 * Puts some changes to the tests together, so that each file of tests is loaded once for all of them: the golden cases, which
 * are quick and notice most; then the tests that hold each file; then others that run it; then, if asked for, long ones. What a
 * file of tests runs while it is loaded, or before its tests, is changed before the load, one at a time. Files of tests go to
 * whichever process is free, and every process has its part of the golden cases.
 *
 * @param {readonly object[]} sites
 * @param {{ drives: readonly object[], testsFor: (file: string) => { near: readonly string[], far: readonly string[], long: readonly string[] },
 *   slowTests: (test: string) => readonly string[], isLate: () => boolean, isNear: boolean, isLong: boolean, tell: (line: string) => void }} by
 */
export function createRound(sites, { drives, testsFor, slowTests, isLate, isNear, isLong, tell }) {
  const killers = new Map();
  /** Places that are run outside of tests, or once for all tests, each with the files of tests that do so. */
  const outside = new Map();
  const addOutside = (place, test, only, leftOut) => {
    if (killers.has(place)) return;
    const tests = outside.get(place) ?? new Map();
    outside.set(place, tests.set(test, { only, leftOut }));
  };
  const plans = sites.map(({ file }) => testsFor(file));

  const planned = (test, of) =>
    plans.flatMap((plan, number) => (!killers.has(number) && of(plan).includes(test) ? [number] : []));

  /** Each process takes the next piece of work when it is free, until none is left or the time is over. */
  async function share(work, run) {
    const waiting = [...work];
    const take = async (drive) => {
      while (waiting.length > 0 && !isLate()) await run(drive, waiting.shift());
    };
    await Promise.all(drives.map(take));
  }

  async function put(drive, { test, of, leftOut, part }) {
    const alive = planned(test, of);
    if (alive.length === 0) return;
    const isThin = isNear && (test === CASES || test === PAGE_TEXTS);
    const began = Date.now();
    const answer = await drive.withEach(alive, test, { leftOut, isThin, part });
    tell(`${test}: ${String(answer.failed.length)} of ${String(alive.length)}, ${seconds(began)} s`);
    for (const name of answer.without) tell(`left out, fails before any change: ${test}: ${name}`);
    for (const { place, test: name, isSure } of answer.failed) {
      if (killers.has(place)) continue;
      const killer = isSure ? name : ((await drive.fromLoad(place, test, name)) ?? (await drive.fromLoad(place, test)));
      if (killer !== null) killers.set(place, `${test}: ${killer}`);
    }
    const left = [...leftOut, ...answer.without];
    for (const { place, test: name } of answer.once) addOutside(place, test, onceIn(test, name), left);
    // Each of them would be loaded and run whole for each change: where time is short those of other rooms are not.
    if (isNear && BROAD.includes(test)) return;
    for (const place of answer.outside) if (alive.includes(place)) addOutside(place, test, null, left);
  }

  async function putFromLoad(drive, [place, tests]) {
    const last = ([test]) => (test === CASES ? 1 : 0);
    for (const [test, { only, leftOut }] of [...tests].sort((a, b) => last(a) - last(b))) {
      if (isLate() || killers.has(place)) return;
      const began = Date.now();
      const killer = await drive.fromLoad(place, test, only, leftOut);
      tell(`${test}: one from its load, ${seconds(began)} s`);
      if (killer !== null) killers.set(place, `${test}: ${killer}`);
    }
  }

  return {
    /** The test that notices each change, by number; null where the time was over before all had been asked. */
    async run() {
      const stages = [{ of: (plan) => plan.near, leftOut: slowTests }];
      if (!isNear) stages.push({ of: (plan) => plan.far, leftOut: slowTests });
      if (isLong) stages.push({ of: (plan) => plan.long, leftOut: () => [] });
      for (const { of, leftOut } of stages) {
        const work = inOrder(plans.flatMap(of)).flatMap((test) =>
          partsOf(test, drives.length).map((part) => ({ test, of, leftOut: leftOut(test), part })),
        );
        await share(work, put);
        await share(outside, putFromLoad);
        outside.clear();
      }
      return isLate() ? null : killers;
    },
  };
}

/**
 * What is asked, from the load, of a change that a test has run once: all golden cases of its command, of files of other rooms
 * that test alone, of any other file everything.
 */
const onceIn = (test, name) => {
  if (test === CASES) return name.slice(0, name.indexOf(' > ') + 3);
  return test === PAGE_TEXTS || BROAD.includes(test) ? name : null;
};

const seconds = (began) => ((Date.now() - began) / 1000).toFixed(1);

/** A part of the golden cases for each process, of another file all its tests together. */
const partsOf = (test, most) =>
  test === CASES ? Array.from({ length: most }, (_, number) => ({ number, of: most })) : [{ number: 0, of: 1 }];

/** Each once, and the golden cases first. */
const inOrder = (tests) => [...new Set(tests.includes(CASES) ? [CASES, ...tests] : tests)];
