import { formatFixed } from '../core/numeric/format-fixed.js';
import type { JunitCase } from '../io/junit-write.js';
import { PROBLEM_CODES } from '../records/problem-codes.js';
import { TERM_WORDS } from '../tasks/check-tolerances-setup.js';
import type { CheckRow } from '../tasks/check-tolerances-setup.js';
import type { StandardStatement } from '../tasks/check-tolerances-standard.js';

/** One test case for each comparison and axis judged, then one for each thing a standard says. Names are unique. */
export function checkCases(rows: readonly CheckRow[], statements: readonly StandardStatement[]): readonly JunitCase[] {
  const taken = new Map<string, number>();
  const unique = (name: string): string => {
    const count = (taken.get(name) ?? 0) + 1;
    taken.set(name, count);
    return count === 1 ? name : `${name} (${String(count)})`;
  };
  const cases = rows.flatMap((row) => rowCases(row));
  const said = statements.map((statement): JunitCase => ({ name: statement.what, group: 'standard', outcome: outcomeOf(statement.verdict), message: statement.verdict === 'within' || statement.verdict === 'information' ? '' : statement.text, detail: statement.text }));
  return [...cases, ...said].map((entry) => ({ ...entry, name: unique(entry.name) }));
}

function rowCases(row: CheckRow): readonly JunitCase[] {
  const name = `${row.pointId}${row.occupation === '' ? '' : `@${row.occupation}`}${row.check === 'repeat' || row.check === 'base-pair' ? ` against ${row.against}` : ''}`;
  const why = row.reasons.map((code) => `${code}: ${PROBLEM_CODES[code].meaning}; ${PROBLEM_CODES[code].fix}`).join('\n');
  if (row.limits.length === 0) {
    const statistic = `plan χ² ${shown(row.horizontalStatistic)}, height |z| ${shown(row.verticalStatistic)}`;
    return [{ name: `${name} against its uncertainty`, group: row.check, outcome: outcomeOf(row.verdict), message: row.verdict === 'within' ? '' : statistic, detail: why }];
  }
  const isSpoilt = row.verdict === 'not-stated';
  return row.limits.map((limit): JunitCase => {
    const axis = limit.axis === 'up' ? 'height' : 'plan';
    const text = `${axis} ${formatFixed(limit.valueM, 4)} m, limit ${limit.limitM === null ? 'not known' : `${formatFixed(limit.limitM, 4)} m`}${limit.governedBy === null ? '' : ` (${TERM_WORDS[limit.governedBy]})`}`;
    const outcome = limit.verdict === 'within' && isSpoilt ? 'skipped' : outcomeOf(limit.verdict);
    return { name: `${name} ${axis}: ${limit.limitName}`, group: row.check, outcome, message: outcome === 'passed' ? '' : text, detail: `${text}\n${why}` };
  });
}

function outcomeOf(verdict: string): JunitCase['outcome'] {
  if (verdict === 'exceeds') return 'failed';
  return verdict === 'not-stated' ? 'skipped' : 'passed';
}

function shown(value: number | null): string {
  return value === null ? 'not known' : formatFixed(value, 2);
}
