// Runs before each test file: which change is active, and, where none is, which places each test reaches.
import { appendFileSync } from 'node:fs';
import { relative } from 'node:path';
import { afterAll, afterEach, beforeEach, expect, inject } from 'vitest';

const { active, reachFile, root } = inject('mutants');
const reached = new Set();
let calls = 0;
/** A change that is asked for so often is in a loop that does not end: the tests themselves stay far below. */
const MOST_CALLS = 3e7;

const isActive = (place) => {
  if (place !== active) return false;
  calls += 1;
  if (calls > MOST_CALLS) throw new Error('it never ends');
  return true;
};
const note = (place) => {
  reached.add(place);
  return false;
};
globalThis.mutants = { at: active < 0 ? note : isActive };

if (active < 0) {
  const byTest = {};
  let onLoad = null;
  beforeEach(() => {
    onLoad ??= [...reached];
    reached.clear();
  });
  afterEach(({ task }) => {
    byTest[`${task.suite?.name ?? ''} ${task.name}`.trim()] = [...reached];
  });
  const file = relative(root, expect.getState().testPath).replaceAll('\\', '/');
  afterAll(() => appendFileSync(reachFile, `${JSON.stringify({ file, byTest, onLoad: onLoad ?? [] })}\n`));
}
