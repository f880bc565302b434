import type { RunAnswer } from '../../records/runs/run-answer.js';

/** The answer of a run as `summary` of a JSON document says it, under the names of the run record. */
export function answerJson({ answer, verdicts, reasons }: RunAnswer): Readonly<Record<string, unknown>> {
  return {
    verdict: answer,
    verdict_counts: Object.fromEntries(verdicts),
    reason_counts: Object.fromEntries(reasons),
  };
}
