import { gravestAnswer } from '../../core/quality/gravest-answer.js';
import type { BroadcastCheck } from '../../records/corrections/broadcast-check.js';
import type { Problem } from '../../records/problem.js';
import type { Answer, RunAnswer } from '../../records/runs/run-answer.js';
import { isForReview } from './audit-findings.js';

/** No where a base differs, or bad rows of fixes were left out on request; review where something is to be looked at. */
export function streamsAnswer(
  checks: readonly BroadcastCheck[],
  findings: readonly Problem[],
  skippedRows: number,
): RunAnswer {
  const looked = findings.filter(isForReview);
  const reasons = new Map<string, number>();
  for (const code of [...checks.flatMap((check) => check.reasons), ...looked.map(({ code: own }) => own)])
    reasons.set(code, (reasons.get(code) ?? 0) + 1);
  const answers: readonly Answer[] = [
    ...checks.map(({ verdict }) => verdict),
    ...looked.map(() => 'review' as const),
    ...Array.from({ length: skippedRows }, () => 'no' as const),
  ];
  const verdicts = new Map(
    (['within', 'review', 'no'] as const).map((word) => [word, answers.filter((own) => own === word).length]),
  );
  const answer = gravestAnswer(answers);
  return { answer, verdicts, reasons };
}
