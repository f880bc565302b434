import type { WorkedPoint } from '../../../records/working-step.js';
import { checkAnswer } from '../../../tasks/check/check-answer.js';
import type { CheckResults } from '../../../tasks/check/check-report.js';
import { inputDoubts } from '../../../tasks/check/judge/check-tolerances-input-verdict.js';
import type { Answer } from '../../../records/runs/run-answer.js';
import type { CheckInputs } from './read-check-inputs.js';
import type { ExplainedCheck } from './write-explained.js';

/** What the page of a check shows, its answer, and what --explain worked through; empty of a whole run. */
export interface PageOfCheck {
  readonly results: CheckResults;
  readonly answer: Answer;
  readonly worked: readonly WorkedPoint[];
}

/** With --explain the page is that of one point: its own comparisons, their answer and their working. */
export function pageOfCheck(
  results: CheckResults,
  answer: Answer,
  explained: ExplainedCheck | null,
  inputs: CheckInputs | null,
): PageOfCheck {
  if (explained === null) return { results, answer, worked: [] };
  const { rows, worked, isShown } = explained;
  // Without points nothing is compared, and --explain has ended the run.
  const doubts = inputDoubts([...(inputs?.measured.points ?? [])].filter(isShown));
  const own = checkAnswer({
    rows,
    statements: [],
    refusals: new Map(),
    areFixesRefused: false,
    rowsSkipped: 0,
    doubtfulPoints: doubts.rejected + doubts.review,
  });
  const pointIds = new Set(rows.map(({ pointId }) => pointId));
  return {
    results: {
      ...results,
      rows,
      summary: null,
      statements: [],
      search: null,
      groups: results.groups.filter(({ pointId }) => pointIds.has(pointId)),
      inputDoubts: doubts,
      fixes: null,
    },
    answer: own.answer,
    worked,
  };
}
