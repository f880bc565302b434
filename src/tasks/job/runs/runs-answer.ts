import { gravestAnswer } from '../../../core/quality/gravest-answer.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { RunRow } from './run-row.js';

/** The answer of a list of runs: the gravest of them, no where a record is broken; counts of their verdicts and reasons. */
export function runsAnswer(runs: readonly FinishedRun[], rows: readonly RunRow[], broken: number): RunAnswer {
  const count = (verdict: FinishedRun['verdict']): number => runs.filter((run) => run.verdict === verdict).length;
  const reasons = new Map<string, number>();
  for (const code of rows.flatMap((row) => row.reasons)) reasons.set(code, (reasons.get(code) ?? 0) + 1);
  return {
    answer: gravestAnswer([...runs.map((run) => run.answer), ...(broken > 0 ? (['no'] as const) : [])]),
    verdicts: new Map((['within', 'review', 'no', 'error'] as const).map((verdict) => [verdict, count(verdict)])),
    reasons,
  };
}
