import type { ProblemCode } from './codes/problem-codes.js';

/** How much a problem weighs: an error stops (or skips the row), a warning is written down, a note only informs. */
export type Severity = 'error' | 'warning' | 'note';

/** Where a problem stands. `line` and `field` count from 1; `record` counts data records from 1. */
export interface Location {
  readonly source?: string;
  readonly line?: number;
  readonly record?: number;
  readonly field?: number;
  readonly column?: string;
  /** Path inside a structured file, for example `features[3].geometry` or `rover.pole_length_m`. */
  readonly path?: string;
}

/**
 * A problem is data. `message` is lower case without a full stop, shows the value and says what was
 * expected; `hint` says what would mend it. Nothing in `core`, `io` or `tasks` throws one.
 */
export interface Problem {
  readonly code: ProblemCode;
  readonly severity: Severity;
  readonly message: string;
  readonly where?: Location;
  readonly received?: string;
  readonly expected?: string;
  readonly hint?: string;
}

/** Everything about a problem but its code and severity. */
export type ProblemDetail = Omit<Problem, 'code' | 'severity'>;

/** An error: the value cannot be used. */
export function errorProblem(code: ProblemCode, detail: ProblemDetail): Problem {
  return { code, severity: 'error', ...detail };
}

/** A warning: the value is used and the doubt is written down. */
export function warningProblem(code: ProblemCode, detail: ProblemDetail): Problem {
  return { code, severity: 'warning', ...detail };
}

/** The same problem, with a place where it had none (places already known win). */
export function locateProblem(problem: Problem, where: Location): Problem {
  return { ...problem, where: { ...where, ...problem.where } };
}
