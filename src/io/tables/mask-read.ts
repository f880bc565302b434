import type { Outcome } from '../../records/outcome.js';
import type { CsvTable } from '../csv/csv-read.js';
import { column } from './columns/column.js';
import type { Column } from './columns/column.js';
import { readWholeTable } from './columns/read-table.js';

/** A place of the skyline of a site. */
export interface MaskRow {
  readonly pointId: string;
  readonly azimuthDeg: number;
  readonly elevationDeg: number;
  /** Line of the file, from 1. */
  readonly line: number;
}

/** A site may look down to a horizon below its own: a hill, a tower. */
const LOWEST_DEG = -15;
const HIGHEST_DEG = 90;

/** The columns of a file of masks. */
export const MASK_COLUMNS: readonly Column<MaskRow>[] = [
  column({
    name: 'point_id',
    kind: 'id',
    isNeeded: true,
    put: (row, id) => (row.pointId = id),
    describe: 'the point or the base that the place of the skyline is seen from',
  }),
  column({
    name: 'azimuth_deg',
    kind: 'direction',
    unit: 'deg',
    isNeeded: true,
    range: [-360, 360],
    put: (row, azimuth) => (row.azimuthDeg = azimuth),
    describe: 'clockwise from true north; as a compass shows it where `--declination` is given',
  }),
  column({
    name: 'elevation_deg',
    kind: 'angle',
    unit: 'deg',
    isNeeded: true,
    range: [LOWEST_DEG, HIGHEST_DEG],
    put: (row, elevation) => (row.elevationDeg = elevation),
    describe: 'how high the sky begins there, above the horizon; between two places it is linear, across north too',
  }),
];

/** Reads a file of masks. Problems: those of the table and its cells; nothing is returned when any row is bad. */
export function readMasks(table: CsvTable): Promise<Outcome<readonly MaskRow[]>> {
  return readWholeTable<MaskRow>(table, {
    columns: MASK_COLUMNS,
    blank: (line) => ({ pointId: '', azimuthDeg: NaN, elevationDeg: NaN, line }),
  });
}
