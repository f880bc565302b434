import type { Outcome } from '../../records/outcome.js';
import type { DistanceKind, PolarLine } from '../../records/points/point-join.js';
import type { RowCells } from '../csv/cell-read.js';
import type { CsvTable } from '../csv/csv-read.js';
import { column } from './columns/column.js';
import type { Column } from './columns/column.js';
import { readWholeTable } from './columns/read-table.js';

const KINDS: ReadonlyMap<string, DistanceKind> = new Map<string, DistanceKind>([
  ['grid', 'grid'],
  ['ellipsoidal', 'ellipsoidal'],
  ['ground', 'ground'],
  ['slope', 'slope'],
]);

const DIRECTION = 'the direction, decimal or DMS; one of them in each row';

/** The columns of the file of --polar. */
export const POLAR_COLUMNS: readonly Column<PolarLine>[] = [
  column({
    name: 'point_id',
    kind: 'id',
    isNeeded: true,
    put: (line, id) => (line.pointId = id),
    describe: 'identifier of the new point',
  }),
  column({
    name: 'from_id',
    kind: 'id',
    isNeeded: true,
    put: (line, id) => (line.fromId = id),
    describe: 'the known point, or ID@OCCUPATION',
  }),
  column({
    name: 'distance_m',
    kind: 'number',
    unit: 'm',
    isNeeded: true,
    range: [0, 20_000_000],
    holds: '0 to 20 000 000',
    put: (line, distance) => (line.distanceM = distance),
    describe: 'the distance',
  }),
  column({
    name: 'distance_kind',
    kind: 'word',
    isNeeded: true,
    words: KINDS,
    put: (line, kind) => (line.distanceKind = kind),
    describe: 'what it is',
  }),
  column({
    name: 'azimuth_deg',
    kind: 'direction',
    unit: 'deg',
    range: [-360, 360],
    put: (line, azimuth) => (line.azimuthDeg = azimuth),
    describe: DIRECTION,
  }),
  column({
    name: 'grid_bearing_deg',
    kind: 'direction',
    unit: 'deg',
    range: [-360, 360],
    put: (line, bearing) => (line.gridBearingDeg = bearing),
    describe: DIRECTION,
  }),
  column({
    name: 'grid_bearing_from_south_deg',
    kind: 'direction',
    unit: 'deg',
    range: [-360, 360],
    // Turned round.
    put: (line, bearing) => (line.gridBearingDeg = bearing + 180),
    describe: DIRECTION,
  }),
  column({
    name: 'ellipsoidal_height_difference_m',
    kind: 'number',
    unit: 'm',
    range: [-12_000, 12_000],
    put: (line, difference) => (line.heightDifferenceM = difference),
    describe: 'new point minus known point; needed with `slope`',
  }),
];

const DIRECTIONS: readonly string[] = POLAR_COLUMNS.filter(({ kind }) => kind === 'direction').map(({ name }) => name);

/**
 * Reads the file of --polar: a new point's identifier, a known point, one direction, a distance and its kind. Each row
 * has one direction: azimuth, or bearing from grid north, or from grid south.
 * Problems: those of the table and its cells; value-missing for no direction; value-out-of-range for more than one.
 * Nothing is returned when any row is bad.
 */
export function readPolarLines(table: CsvTable, sourceIndex: number): Promise<Outcome<readonly PolarLine[]>> {
  return readWholeTable<PolarLine>(table, {
    columns: POLAR_COLUMNS,
    choices: [{ what: 'a direction', sets: DIRECTIONS.map((name) => [name]), isByRow: true }],
    blank: (line) => ({
      pointId: '',
      fromId: '',
      azimuthDeg: null,
      gridBearingDeg: null,
      distanceM: NaN,
      distanceKind: 'grid',
      heightDifferenceM: null,
      place: { sourceIndex, line },
    }),
    check: (_, cells) => checkDirection(cells),
  });
}

/** A row has one direction. */
function checkDirection(cells: RowCells): void {
  const directions = DIRECTIONS.map(cells.column);
  const [first, second] = directions.filter((direction) => cells.text(direction).trim() !== '');
  if (first === undefined) {
    const where = directions.find(({ index }) => index >= 0) ?? directions[0]!;
    cells.report('value-missing', where, 'the row has no direction', 'fill the azimuth or the bearing');
  } else if (second !== undefined) {
    const message = `the row has two directions, ${first.name} and ${second.name}`;
    cells.report('value-out-of-range', second, message, 'leave one of them empty');
  }
}
