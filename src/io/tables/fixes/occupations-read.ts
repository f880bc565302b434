import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { readWholeTable } from '../columns/read-table.js';
import { OCCUPATION_COLUMNS } from './occupation-columns.js';
import type { OccupationInterval, OccupationRow } from './occupation-columns.js';

export type { OccupationInterval } from './occupation-columns.js';

/**
 * Reads the file that names the occupations of a log: point_id, from_utc, to_utc, and pole_length_m if wanted.
 * Returned: sorted by time. Problems: those of the table and its cells; value-out-of-range where an occupation ends
 * before it begins or overlaps another. Nothing is returned when any row is bad.
 */
export async function readOccupations(table: CsvTable): Promise<Outcome<readonly OccupationInterval[]>> {
  const read = await readWholeTable<OccupationRow>(table, {
    columns: OCCUPATION_COLUMNS,
    blank: (line) => ({ pointId: '', fromMs: NaN, toMs: NaN, poleLengthM: null, line }),
    check({ fromMs, toMs }, cells) {
      if (toMs < fromMs)
        cells.report('value-out-of-range', cells.column('to_utc'), 'the occupation ends before it begins');
    },
  });
  if (!read.ok) return read;
  const found = [...read.value].sort((a, b) => a.fromMs - b.fromMs || a.line - b.line);
  const problems = found.flatMap((later, index): readonly Problem[] => {
    const earlier = found[index - 1];
    if (earlier === undefined || later.fromMs > earlier.toMs) return [];
    const message = `${later.pointId} from ${formatUtc(later.fromMs)} overlaps ${earlier.pointId}, which ends ${formatUtc(earlier.toMs)}`;
    return [
      errorProblem('value-out-of-range', {
        message,
        where: { source: table.source, line: later.line, column: 'from_utc' },
        hint: 'an antenna stands on one point at a time',
      }),
    ];
  });
  if (problems.length > 0) return failureOf(problems);
  return success(
    found.map(({ pointId, fromMs, toMs, poleLengthM }) => ({ pointId, fromMs, toMs, poleLengthM })),
    read.problems,
  );
}
