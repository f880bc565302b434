import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { JunitCase } from '../../../../io/documents/junit-write.js';
import { PROBLEM_CODES } from '../../../../records/codes/problem-codes.js';
import type { Answer } from '../../../../records/runs/run-answer.js';
import { answerOfStatement, answerOfVerdict } from '../../../../tasks/check/check-answer.js';
import { TERM_WORDS } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { CheckRow } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { StandardStatement } from '../../../../tasks/check/judge/check-tolerances-standard-statement.js';

type Outcome = JunitCase['outcome'];

/**
 * One test case for each comparison, and for each limit where there are any; then one for each thing a standard says.
 * Names are unique. Cases are made as they are asked for, the same each time. A case passes within, fails with no, and is skipped for review unless `failsReview`: the form has no
 * third state.
 */
export function checkCases(
  rows: Iterable<CheckRow>,
  statements: readonly StandardStatement[],
  failsReview: boolean,
): Iterable<JunitCase> {
  const outcome = (answer: Answer | 'information'): Outcome =>
    answer === 'no' || (answer === 'review' && failsReview) ? 'failed' : answer === 'review' ? 'skipped' : 'passed';
  return {
    *[Symbol.iterator]() {
      const unique = uniqueNames();
      for (const row of rows) for (const entry of rowCases(row, outcome)) yield { ...entry, name: unique(entry.name) };
      for (const statement of statements) {
        const answer = answerOfStatement(statement);
        const isPassed = outcome(answer) === 'passed';
        yield {
          name: unique(statement.what),
          group: 'standard',
          answer: answer === 'information' ? 'within' : answer,
          outcome: outcome(answer),
          message: isPassed ? '' : statement.text,
          detail: statement.text,
        };
      }
    },
  };
}

/** Numbers a name that comes again. */
function uniqueNames(): (name: string) => string {
  const taken = new Map<string, number>();
  return (name) => {
    const count = (taken.get(name) ?? 0) + 1;
    taken.set(name, count);
    return count === 1 ? name : `${name} (${String(count)})`;
  };
}

function rowCases(row: CheckRow, outcome: (answer: Answer) => Outcome): readonly JunitCase[] {
  const name = `${row.pointId}${row.occupation === '' ? '' : `@${row.occupation}`}${row.check === 'repeat' || row.check === 'base-pair' ? ` against ${row.against}` : ''}`;
  const why = row.reasons
    .map((code) => `${code}: ${PROBLEM_CODES[code].meaning}; ${PROBLEM_CODES[code].fix}`)
    .join('\n');
  const answer = answerOfVerdict(row.verdict);
  const limits = row.limits.map((limit): JunitCase => {
    const axis = limit.axis === 'up' ? 'height' : 'plan';
    const own = limit.verdict === 'within' ? 'within' : 'no';
    const text = `${axis} ${formatFixed(limit.valueM, 4)} m, limit ${limit.limitM === null ? 'not known' : `${formatFixed(limit.limitM, 4)} m`}${limit.governedBy === null ? '' : ` (${TERM_WORDS[limit.governedBy]})`}`;
    return {
      name: `${name} ${axis}: ${limit.limitName}`,
      group: row.check,
      answer: own,
      outcome: outcome(own),
      message: outcome(own) === 'passed' ? '' : text,
      detail: `${text}\n${why}`,
    };
  });
  // The row's own case says what its limits alone do not: an axis judged by its uncertainty, and what the reduction doubts.
  const byLimits: Answer = row.limits.some(({ verdict }) => verdict !== 'within') ? 'no' : 'within';
  if (limits.length > 0 && answer === byLimits && !hasUnlimited(row)) return limits;
  const statistic = `plan χ² ${shown(row.horizontalStatistic)}, height |z| ${shown(row.verticalStatistic)}`;
  const message =
    outcome(answer) === 'passed' ? '' : answer === 'review' ? `review: ${row.reasons.join(', ')}` : statistic;
  return [
    ...limits,
    {
      name: `${name} ${limits.length > 0 && !hasUnlimited(row) ? 'as it was reduced' : 'against its uncertainty'}`,
      group: row.check,
      answer,
      outcome: outcome(answer),
      message,
      detail: why === '' ? statistic : `${statistic}\n${why}`,
    },
  ];
}

/** Plan or height was compared and has no limit. */
function hasUnlimited({ limits, firstM, secondM, upM }: CheckRow): boolean {
  const isLimited = (up: boolean): boolean => limits.some(({ axis }) => (axis === 'up') === up);
  return (firstM !== null && secondM !== null && !isLimited(false)) || (upM !== null && !isLimited(true));
}

function shown(value: number | null): string {
  return value === null ? 'not known' : formatFixed(value, 2);
}
