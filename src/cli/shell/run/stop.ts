import type { Outcome } from '../../../records/outcome.js';
import type { Problem } from '../../../records/problem.js';

/** Carries problems from where they were found to where the run ends; thrown only inside `cli`. */
export class StopError extends Error {
  override readonly name = 'StopError';
  constructor(readonly problems: readonly Problem[]) {
    super(problems[0]?.message ?? 'stopped');
  }
}

/** Thrown when a signal came. */
export class InterruptedError extends Error {
  override readonly name = 'InterruptedError';
}

/** The value, its warnings handed on; or an end of the run with the problems. */
export function unwrap<T>(outcome: Outcome<T>, warn: (problems: readonly Problem[]) => void): T {
  if (!outcome.ok) throw new StopError(outcome.problems);
  if (outcome.problems.length > 0) warn(outcome.problems);
  return outcome.value;
}
