/**
 * One line of a worked reduction. Steps are written from the numbers the reduction itself used:
 * `substitution` shows those numbers in the formula and `result` the value carried on.
 */
export interface WorkingStep {
  readonly title: string;
  /** The formula in plain text, with the symbols of the field. */
  readonly formula: string;
  readonly substitution: readonly string[];
  readonly result: readonly string[];
  /** Key and place in docs/references.md, or `common practice, no published source`. */
  readonly source: string;
}

/** The working of one thing under its title. */
export interface WorkedPoint {
  readonly title: string;
  readonly steps: readonly WorkingStep[];
}
