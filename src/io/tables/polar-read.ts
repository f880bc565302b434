import { parseAngle } from '../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { DistanceKind, PolarLine } from '../../records/points/point-join.js';
import { createCellReader } from '../csv/cell-read.js';
import type { CellReader, Column } from '../csv/cell-read.js';
import { mapColumns } from './columns/column-map.js';
import type { TableSpec } from './columns/column-map.js';
import type { CsvTable } from '../csv/csv-read.js';
import { everyRow } from '../csv/every-row.js';

const DIRECTIONS = ['azimuth_deg', 'grid_bearing_deg', 'grid_bearing_from_south_deg'] as const;
const KINDS: ReadonlyMap<string, DistanceKind> = new Map<string, DistanceKind>([
  ['grid', 'grid'],
  ['ellipsoidal', 'ellipsoidal'],
  ['ground', 'ground'],
  ['slope', 'slope'],
]);

/** The columns of the file of --polar. */
export const POLAR_TABLE: TableSpec = {
  columns: ['point_id', 'from_id', ...DIRECTIONS, 'distance_m', 'distance_kind', 'ellipsoidal_height_difference_m'],
  required: ['point_id', 'from_id', 'distance_m', 'distance_kind'],
  choices: [{ what: 'a direction', sets: DIRECTIONS.map((name) => [name]) }],
  heights: [],
};

/**
 * Reads the file of --polar: a new point's identifier, a known point, one direction, a distance and its kind. Each row
 * has one direction: azimuth, or bearing from grid north, or from grid south.
 * Problems: those of the table and its cells; value-missing for no direction; value-out-of-range for more than one.
 * Nothing is returned when any row is bad.
 */
export async function readPolarLines(table: CsvTable, sourceIndex: number): Promise<Outcome<readonly PolarLine[]>> {
  const { source, header, headerLine, dialect } = table;
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, POLAR_TABLE, {});
  if (!mapped.ok) return mapped;
  const cells = createCellReader(mapped.value, source, dialect.decimalComma);
  const columns = {
    id: cells.column('point_id'),
    from: cells.column('from_id'),
    distance: cells.column('distance_m'),
    kind: cells.column('distance_kind'),
    difference: cells.column('ellipsoidal_height_difference_m'),
  };
  const directions = DIRECTIONS.map((name) => cells.column(name));
  const found: PolarLine[] = [];
  const problems = await everyRow(table, cells, (line) => {
    const pointId = cells.requiredId(columns.id);
    const fromId = cells.requiredId(columns.from);
    const distanceM = cells.requiredNumber(columns.distance, 0, 20_000_000);
    const distanceKind = cells.word(columns.kind, KINDS);
    if (distanceKind === null && cells.text(columns.kind).trim() === '')
      cells.report(
        'value-missing',
        columns.kind,
        'is empty and needed',
        `write one of ${[...KINDS.keys()].join(', ')}`,
      );
    const direction = readDirection(cells, directions, dialect.decimalComma);
    const heightDifferenceM = cells.optionalNumber(columns.difference, -12_000, 12_000);
    if (
      cells.problems.length > 0 ||
      pointId === null ||
      fromId === null ||
      distanceM === null ||
      distanceKind === null ||
      direction === null
    )
      return;
    found.push({
      pointId,
      fromId,
      ...direction,
      distanceM,
      distanceKind,
      heightDifferenceM,
      place: { sourceIndex, line },
    });
  });
  if (!problems.ok) return problems;
  return problems.value.length > 0 ? failureOf(problems.value) : success(found, problems.problems);
}

/** The one direction of a row: from true north, or from grid north (a bearing from south is turned round). */
function readDirection(
  cells: CellReader,
  directions: readonly Column[],
  decimalComma: boolean,
): Pick<PolarLine, 'azimuthDeg' | 'gridBearingDeg'> | null {
  const given = directions.filter((column) => cells.text(column).trim() !== '');
  const [column, another] = given;
  if (column === undefined) {
    cells.report(
      'value-missing',
      directions.find((candidate) => candidate.index >= 0) ?? directions[0]!,
      'the row has no direction',
      'fill the azimuth or the bearing',
    );
    return null;
  }
  if (another !== undefined) {
    cells.report(
      'value-out-of-range',
      another,
      `the row has two directions, ${column.name} and ${another.name}`,
      'leave one of them empty',
    );
    return null;
  }
  const text = cells.text(column).trim();
  const decimal = parseDecimal(text, decimalComma);
  const angle = decimal === null ? parseAngle(text, 'any') : success(decimal);
  if (!angle.ok) {
    for (const problem of angle.problems) cells.report(problem.code, column, problem.message, problem.hint);
    return null;
  }
  if (!(angle.value >= -360 && angle.value <= 360)) {
    cells.report('value-out-of-range', column, `${text} is outside -360..360`);
    return null;
  }
  if (column.name === 'azimuth_deg') return { azimuthDeg: angle.value, gridBearingDeg: null };
  return { azimuthDeg: null, gridBearingDeg: column.name === 'grid_bearing_deg' ? angle.value : angle.value + 180 };
}
