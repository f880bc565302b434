import { countWords } from '../core/quality/count-words.js';
import { gravestAnswer } from '../core/quality/gravest-answer.js';
import type { Answer, RunAnswer } from '../records/run-answer.js';
import type { CheckRow, CheckVerdict } from './check-tolerances-setup.js';
import type { StandardStatement } from './check-tolerances-standard-statement.js';

/** The answer that a verdict gives: what cannot be stated is no yes. */
const ANSWERS: Readonly<Record<CheckVerdict, Answer>> = { within: 'within', review: 'review', exceeds: 'no', 'not-stated': 'no' };

/** A verdict in the three words that every output uses. */
export function answerOfVerdict(verdict: CheckVerdict): Answer {
  return ANSWERS[verdict];
}

/** A statement in the same words; what only informs judges nothing. */
export function answerOfStatement({ verdict }: Pick<StandardStatement, 'verdict'>): Answer | 'information' {
  return verdict === 'information' ? 'information' : ANSWERS[verdict];
}

/** What a check found besides its rows and statements. */
export interface CheckFindings {
  readonly rows: readonly CheckRow[];
  readonly statements: readonly StandardStatement[];
  /** Raw fixes refused, by code. */
  readonly refusals: ReadonlyMap<string, number>;
  readonly areFixesRefused: boolean;
  readonly rowsSkipped: number;
  /** Points of the input that the reduction rejected or left for review, compared or not. */
  readonly doubtfulPoints: number;
}

/** The answer of a check: the gravest of all comparisons and statements; never within beside points that the reduction doubts. */
export function checkAnswer({ rows, statements, refusals, areFixesRefused, rowsSkipped, doubtfulPoints }: CheckFindings): RunAnswer {
  const judged = statements.map(answerOfStatement).filter((answer) => answer !== 'information');
  const answers: readonly Answer[] = [...rows.map(({ verdict }) => ANSWERS[verdict]), ...judged];
  const whole: readonly Answer[] = [...(areFixesRefused || rowsSkipped > 0 ? (['no'] as const) : []), ...(doubtfulPoints > 0 ? (['review'] as const) : [])];
  const count = (word: Answer): number => answers.filter((answer) => answer === word).length;
  const reasons = new Map(countWords(rows, (row) => row.reasons));
  for (const [code, times] of refusals) reasons.set(code, (reasons.get(code) ?? 0) + times);
  return {
    answer: gravestAnswer([...answers, ...whole]),
    verdicts: new Map((['within', 'review', 'no'] as const).map((word) => [word, count(word)])),
    reasons,
  };
}
