import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { createCellReader } from '../../csv/cell-read.js';
import { mapColumns } from '../columns/column-map.js';
import type { TableSpec } from '../columns/column-map.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { everyRow } from '../../csv/every-row.js';

/** When the antenna stood on a point, for logs that do not name it. Both ends belong to it. */
export interface OccupationInterval {
  readonly pointId: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly poleLengthM: number | null;
}

const OCCUPATION_TABLE: TableSpec = {
  columns: ['point_id', 'from_utc', 'to_utc', 'pole_length_m'],
  required: ['point_id', 'from_utc', 'to_utc'],
  choices: [],
  heights: [],
};

/**
 * Reads the file that names the occupations of a log: point_id, from_utc, to_utc, and pole_length_m if wanted.
 * Returned: sorted by time. Problems: those of the table and its cells; value-out-of-range where an occupation ends
 * before it begins or overlaps another. Nothing is returned when any row is bad.
 */
export async function readOccupations(table: CsvTable): Promise<Outcome<readonly OccupationInterval[]>> {
  const { source, header, headerLine, dialect } = table;
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, OCCUPATION_TABLE, {});
  if (!mapped.ok) return mapped;
  const cells = createCellReader(mapped.value, source, dialect.decimalComma);
  const pointId = cells.column('point_id');
  const from = cells.column('from_utc');
  const to = cells.column('to_utc');
  const pole = cells.column('pole_length_m');
  const found: (OccupationInterval & { readonly line: number })[] = [];
  const read = await everyRow(table, cells, (line) => {
    const id = cells.requiredId(pointId);
    const fromMs = cells.time(from);
    const toMs = cells.time(to);
    const poleLengthM = cells.optionalNumber(pole, 0, 100);
    if (cells.problems.length === 0 && (fromMs === null || toMs === null)) {
      cells.report('value-missing', fromMs === null ? from : to, 'is empty and needed');
    } else if (fromMs !== null && toMs !== null && toMs < fromMs) {
      cells.report('value-out-of-range', to, 'the occupation ends before it begins');
    }
    if (id !== null && fromMs !== null && toMs !== null) found.push({ pointId: id, fromMs, toMs, poleLengthM, line });
  });
  if (!read.ok) return read;
  const problems = read.value;
  found.sort((a, b) => a.fromMs - b.fromMs || a.line - b.line);
  found.forEach((later, index) => {
    const earlier = found[index - 1];
    if (earlier === undefined || later.fromMs > earlier.toMs) return;
    const message = `${later.pointId} from ${formatUtc(later.fromMs)} overlaps ${earlier.pointId}, which ends ${formatUtc(earlier.toMs)}`;
    problems.push(
      errorProblem('value-out-of-range', {
        message,
        where: { source, line: later.line, column: 'from_utc' },
        hint: 'an antenna stands on one point at a time',
      }),
    );
  });
  if (problems.length > 0) return failureOf(problems);
  return success(
    found.map(({ pointId: id, fromMs, toMs, poleLengthM }) => ({ pointId: id, fromMs, toMs, poleLengthM })),
    read.problems,
  );
}
