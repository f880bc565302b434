import type { Answer, RunAnswer } from '../../../records/runs/run-answer.js';
import { textOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';
import { EXIT_CODES } from '../exit-codes.js';
import type { RunLog } from './run-log.js';
import type { RunEnd } from '../workbench.js';

/** Whether an answer ends a run with 1: always where it is no, and with `--fail-on review` where it is review. */
export function isFailing(answer: Answer, invocation: Invocation): boolean {
  return answer === 'no' || (answer === 'review' && textOption(invocation, 'failOn') === 'review');
}

/** The end of a run that has an answer: its exit code, and its record with the counts. */
export function endWith(run: RunAnswer, invocation: Invocation, log: RunLog): RunEnd {
  return {
    exit: isFailing(run.answer, invocation) ? EXIT_CODES.no.code : EXIT_CODES.done.code,
    record: log.record(run),
    told: { ...run, timeMs: log.timeMs },
    reasons: new Set(run.reasons.keys()),
  };
}

/** The answer of a run that carried rows: those in doubt ask for review, with how many for each reason; bad ones were left out on request. */
export function doubtedAnswer({
  count,
  inDoubt,
  bad,
  reasons,
}: {
  readonly count: number;
  readonly inDoubt: number;
  readonly bad: number;
  readonly reasons: RunAnswer['reasons'];
}): RunAnswer {
  return {
    answer: bad > 0 ? 'no' : inDoubt > 0 ? 'review' : 'within',
    verdicts: new Map([
      ['within', count - inDoubt],
      ['review', inDoubt],
      ['no', bad],
    ]),
    reasons,
  };
}

/** The answer of a run over rows that are good or bad and no more: bad ones were left out on request. */
export function rowsAnswer(good: number, bad: number): RunAnswer {
  return {
    answer: bad > 0 ? 'no' : 'within',
    verdicts: new Map([
      ['within', good],
      ['no', bad],
    ]),
    reasons: new Map(),
  };
}
