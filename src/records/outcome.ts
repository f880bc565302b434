import type { Problem } from './problem.js';

/** A value, with any warnings; or at least one error and no value. Never both empty. */
export type Outcome<T> = Success<T> | Failure;

export interface Success<T> {
  readonly ok: true;
  readonly value: T;
  readonly problems: readonly Problem[];
}

export interface Failure {
  readonly ok: false;
  readonly problems: readonly Problem[];
}

const NONE: readonly Problem[] = Object.freeze([]);

/** A success; `problems` are warnings. */
export function success<T>(value: T, problems: readonly Problem[] = NONE): Success<T> {
  return { ok: true, value, problems };
}

/** A failure with a list of errors, which may be longer than a call takes arguments. */
export function failureOf(problems: readonly Problem[]): Failure {
  return { ok: false, problems };
}

/** A failure with one or more errors. */
export function failure(...problems: readonly Problem[]): Failure {
  return { ok: false, problems };
}
