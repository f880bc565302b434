import { gravestAnswer } from '../../core/quality/gravest-answer.js';
import type { BroadcastCheck } from '../../records/corrections/broadcast-check.js';
import type { Problem } from '../../records/problem.js';
import type { RunAnswer } from '../../records/run-answer.js';
import { isForReview } from './audit-findings.js';

/** No where a base differs; review where something is to be looked at. */
export function streamsAnswer(checks: readonly BroadcastCheck[], findings: readonly Problem[]): RunAnswer {
  const looked = findings.filter(isForReview);
  const reasons = new Map<string, number>();
  for (const code of [...checks.flatMap((check) => check.reasons), ...looked.map(({ code: own }) => own)])
    reasons.set(code, (reasons.get(code) ?? 0) + 1);
  const verdicts = new Map(
    (['within', 'review', 'no'] as const).map((word) => [
      word,
      checks.filter(({ verdict }) => verdict === word).length + (word === 'review' ? looked.length : 0),
    ]),
  );
  const answer = gravestAnswer([...checks.map(({ verdict }) => verdict), ...looked.map(() => 'review' as const)]);
  return { answer, verdicts, reasons };
}
