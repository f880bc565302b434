// How vitest runs a test here: once as it is, then again with each change that it ran and that no test has noticed yet. The
// tests of a file are loaded once for all changes. Where a test fails without a change after one was made, that one may have
// left something behind: the file is loaded anew.
import { VitestTestRunner } from 'vitest/runners';

/** So many tests of a thinned file are asked of a change in any case, and then one in so many. */
const ALWAYS = 12;
const EVERY = 3;

export default class ManyChanges extends VitestTestRunner {
  /** A change has left something behind: nothing more is to be learnt in this process. */
  isSpoiled = false;
  /** The change that was made last. */
  last = null;
  /** How many tests of the file have come. */
  seen = 0;

  async runTask(test) {
    const run = VitestTestRunner.getTestFn(test);
    const state = globalThis.mutants;
    if (state === undefined) return run();
    if (state.active >= 0) return isAsked(state, nameOf(test)) ? run() : undefined;
    this.seen += 1;
    if (this.seen % state.part.of !== state.part.number) return;
    if (this.isSpoiled || state.skipped.has(nameOf(test))) return;
    state.learn();
    state.begin();
    const start = performance.now();
    const before = await failure(test, run);
    if (before !== null) {
      // It may fail by itself, or by what the change before left behind: it is left out, and after a change the rest begun anew.
      this.isSpoiled = this.last !== null;
      state.note({ kind: 'fails', test: nameOf(test), after: this.last, message: before });
      return;
    }
    const ms = performance.now() - start;
    if (ms > state.slowMs) state.note({ kind: 'slow', test: nameOf(test) });
    state.count += 1;
    for (const [place, times] of state.end()) {
      if (!state.alive.has(place) || isEnough(state, place)) continue;
      this.last = place;
      state.activate(place, times, ms);
      const message = await failure(test, run);
      const wasMade = state.wasAsked();
      state.tries.set(place, (state.tries.get(place) ?? 0) + 1);
      state.rest();
      if (message === null) {
        if (!wasMade) state.note({ kind: 'once', place, test: nameOf(test) });
        continue;
      }
      if ((await failure(test, run)) !== null) {
        this.isSpoiled = true;
        state.note({ kind: 'failed', place, test: nameOf(test), isSure: false });
        return;
      }
      state.note({ kind: 'failed', place, test: nameOf(test), isSure: true });
      state.notice(place);
    }
    state.rest();
    state.note({ kind: 'done', test: nameOf(test) });
  }
}

/** Where time is short, whole commands by the hundred are not each run with a change that the first of them did not notice. */
const isEnough = ({ isThin, tries, count }, place) =>
  isThin && (tries.get(place) ?? 0) >= ALWAYS && count % EVERY !== place % EVERY;

/** From a load all tests are asked, those of a group (`pegbook transform > `) or a single one. */
const isAsked = ({ only, skipped }, name) =>
  !skipped.has(name) && (only === null || only === name || (only.endsWith(' > ') && name.startsWith(only)));

const nameOf = ({ suite, name }) => `${suite === undefined ? '' : `${nameOf(suite)} > `}${name}`;

async function failure(test, run) {
  let message = null;
  try {
    await run();
  } catch (error) {
    message = String(error?.message ?? error).slice(0, 200);
  }
  if (test.result?.state === 'fail') {
    message ??= String(test.result.errors?.[0]?.message).slice(0, 200);
    test.result.state = 'run';
    test.result.errors = undefined;
  }
  return message;
}
