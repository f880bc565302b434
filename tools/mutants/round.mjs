import { CASES, PAGE_TEXTS } from './related.mjs';

/**
 * Puts some changes to the tests together, so that each file of tests is loaded once for all of them: the golden cases, which
 * are quick and notice most; then the tests that hold each file; then others that run it; then, if asked for, long ones. What a
 * file of tests runs while it is loaded, or before its tests, is changed before the load, one at a time.
 *
 * @param {readonly object[]} sites
 * @param {{ drive: object, testsFor: (file: string) => { near: readonly string[], far: readonly string[], long: readonly string[] },
 *   slowTests: (test: string) => readonly string[], isLate: () => boolean, isNear: boolean, isLong: boolean, tell: (line: string) => void }} by
 */
export function createRound(sites, { drive, testsFor, slowTests, isLate, isNear, isLong, tell }) {
  const killers = new Map();
  /** Places that are run outside of tests, each with the files of tests that do so. */
  const outside = new Map();
  const plans = sites.map(({ file }) => testsFor(file));

  const planned = (test, of) =>
    plans.flatMap((plan, number) => (!killers.has(number) && of(plan).includes(test) ? [number] : []));

  async function put(test, of, leftOut) {
    const alive = planned(test, of);
    if (alive.length === 0) return;
    const isThin = isNear && (test === CASES || test === PAGE_TEXTS);
    const answer = await drive.withEach(alive, test, { leftOut, isThin });
    tell(`${test}: ${String(answer.failed.length)} of ${String(alive.length)}`);
    for (const name of answer.without) tell(`left out, fails before any change: ${test}: ${name}`);
    for (const { place, test: name, isSure } of answer.failed) {
      const killer = isSure ? name : ((await drive.fromLoad(place, test, name)) ?? (await drive.fromLoad(place, test)));
      if (killer !== null) killers.set(place, `${test}: ${killer}`);
    }
    for (const place of answer.outside)
      if (alive.includes(place) && !killers.has(place)) outside.set(place, [...(outside.get(place) ?? []), test]);
  }

  async function putFromLoad() {
    for (const [place, tests] of outside)
      for (const test of tests) {
        if (isLate()) return;
        if (killers.has(place)) break;
        const killer = await drive.fromLoad(place, test);
        if (killer !== null) killers.set(place, `${test}: ${killer}`);
      }
    outside.clear();
  }

  return {
    /** The test that notices each change, by number; null where the time was over before all had been asked. */
    async run() {
      const stages = [{ of: (plan) => plan.near, leftOut: slowTests }];
      if (!isNear) stages.push({ of: (plan) => plan.far, leftOut: slowTests });
      if (isLong) stages.push({ of: (plan) => plan.long, leftOut: () => [] });
      for (const { of, leftOut } of stages) {
        for (const test of inOrder(plans.flatMap(of))) {
          if (isLate()) return null;
          await put(test, of, leftOut(test));
        }
        await putFromLoad();
      }
      return isLate() ? null : killers;
    },
  };
}

/** Each once, and the golden cases first. */
const inOrder = (tests) => [...new Set(tests.includes(CASES) ? [CASES, ...tests] : tests)];
