import type { FinishedRun } from '../../../records/runs/finished-run.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { CheckSetup } from '../../check/judge/check-tolerances-setup.js';
import { compareRuns } from './compare-runs.js';
import type { MovementLimits, RunChange } from './compare-runs.js';
import { comparisonAnswer, comparisonSummary, runDifferences } from './comparison-summary.js';
import type { ComparisonSummary, RunDifference } from './comparison-summary.js';

/** One of two runs: its points, and its record where there is one. */
export interface ComparedSide {
  readonly points: readonly PointRow[];
  readonly record: FinishedRun | null;
}

/** Two runs held against each other, step by step. */
export interface RunComparison {
  readonly changes: readonly RunChange[];
  readonly summary: ComparisonSummary;
  /** What the runs themselves differ in; none where one has no record. */
  readonly differences: readonly RunDifference[];
  readonly answer: RunAnswer;
}

/** Compares two runs. Given: both, the earlier first; the setup of a check without rules; limits of a movement. */
export function runComparison(
  before: ComparedSide,
  after: ComparedSide,
  setup: CheckSetup,
  limits: MovementLimits,
): RunComparison {
  const changes = compareRuns(before.points, after.points, setup, limits);
  const [first, second] = [before.record, after.record];
  return {
    changes,
    summary: comparisonSummary(changes),
    differences: first !== null && second !== null ? runDifferences(first, second) : [],
    answer: comparisonAnswer(changes),
  };
}
