// How vitest runs a test here: once as it is, then again with each change that it ran and that no test has noticed yet. The
// tests of a file are loaded once for all changes.
import { VitestTestRunner } from 'vitest/runners';

export default class ManyChanges extends VitestTestRunner {
  /** A change has left something behind: what fails from here on must be seen again in a process of its own. */
  isSpoiled = false;

  async runTask(test) {
    const run = VitestTestRunner.getTestFn(test);
    const state = globalThis.mutants;
    if (state === undefined || state.active >= 0) return run();
    state.begin();
    const start = performance.now();
    await run();
    const ms = performance.now() - start;
    for (const [place, times] of state.end()) {
      if (!state.alive.has(place)) continue;
      state.activate(place, times, ms);
      const message = await failure(test, run);
      state.rest();
      if (message === null) continue;
      if (!this.isSpoiled) this.isSpoiled = (await failure(test, run)) !== null;
      state.note({ kind: 'failed', place, test: test.name, message, isSure: !this.isSpoiled });
      state.alive.delete(place);
    }
    state.rest();
  }
}

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
