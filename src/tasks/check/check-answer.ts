import { countWords } from '../../core/quality/count-words.js';
import { gravestAnswer } from '../../core/quality/gravest-answer.js';
import type { Answer, RunAnswer } from '../../records/runs/run-answer.js';
import type { RecordList } from '../../records/record-list.js';
import type { CheckRow, CheckVerdict } from './judge/check-tolerances-setup.js';
import type { StandardStatement } from './judge/check-tolerances-standard-statement.js';

/** The answer that a verdict gives: what cannot be stated is no yes. */
const ANSWERS: Readonly<Record<CheckVerdict, Answer>> = {
  within: 'within',
  review: 'review',
  exceeds: 'no',
  'not-stated': 'no',
};
const WORDS: readonly Answer[] = ['within', 'review', 'no'];

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
  readonly rows: RecordList<CheckRow>;
  readonly statements: readonly StandardStatement[];
  /** Raw fixes refused, by code. */
  readonly refusals: ReadonlyMap<string, number>;
  readonly areFixesRefused: boolean;
  readonly rowsSkipped: number;
  /** Points of the input that the reduction rejected or left for review, compared or not. */
  readonly doubtfulPoints: number;
}

/** The answer of a check: the gravest of all comparisons and statements; never within beside points that the reduction doubts. */
export function checkAnswer({
  rows,
  statements,
  refusals,
  areFixesRefused,
  rowsSkipped,
  doubtfulPoints,
}: CheckFindings): RunAnswer {
  const judged = statements.map(answerOfStatement).filter((answer) => answer !== 'information');
  const counts: Record<Answer, number> = { within: 0, review: 0, no: 0 };
  for (const { verdict } of rows) counts[ANSWERS[verdict]] += 1;
  for (const answer of judged) counts[answer] += 1;
  const answers = WORDS.filter((word) => counts[word] > 0);
  const whole: readonly Answer[] = [
    ...(areFixesRefused || rowsSkipped > 0 ? (['no'] as const) : []),
    ...(doubtfulPoints > 0 ? (['review'] as const) : []),
  ];
  const reasons = new Map(countWords(rows, (row) => row.reasons));
  for (const [code, times] of refusals) reasons.set(code, (reasons.get(code) ?? 0) + times);
  return {
    answer: gravestAnswer([...answers, ...whole]),
    verdicts: new Map(WORDS.map((word) => [word, counts[word]])),
    reasons,
  };
}
