import type { CauseReport } from '../src/core/quality/cause/likely-cause.js';

/** What an answer of the search is counted as. */
export interface Outcome {
  readonly first: string;
  readonly tied: readonly string[];
  readonly word: string;
}

export const PHYSICAL_PAIRS: [[string, string], [number, number]][];
export function namesBoth(report: CauseReport | null, names: readonly [string, string]): boolean;
export function outcomeOf(report: CauseReport | null): Outcome;
