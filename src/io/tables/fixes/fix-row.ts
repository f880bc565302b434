import type { Fix } from '../../../records/points/fix.js';
import type { Solution } from '../../../records/session.js';
import type { GeodeticPoint } from '../../../records/points/point.js';
import type { RowCells } from '../../csv/cell-read.js';
import type { Draft } from '../../../records/draft.js';
import type { ColumnMap, PassThroughColumn } from '../columns/column-map.js';
import { createRowFiller, idRead, numberRead } from '../columns/row-reader.js';
import { createFixPosition, NOWHERE } from './fix-position.js';
import type { FixPlaces } from './fix-position.js';
import { FIX_COLUMNS } from './fix-table.js';

export type { FixPlaces } from './fix-position.js';

/** Turns the current row of a cell reader into a fix; null when the reader reported a problem. */
export type FixRow = (line: number) => Fix | null;

/** What the reader of fixes needs from outside. */
export interface FixRowOptions extends FixPlaces {
  /** Index of the file in the run's list of inputs. */
  readonly sourceIndex: number;
  /** Of rows that state none; null or absent: it stays unknown. */
  readonly solution?: Solution | null;
}

const NO_CELLS: readonly string[] = Object.freeze([]);
/** A fix of which nothing is known but its place. */
function blankFix(geodetic: GeodeticPoint, sourceIndex: number, line: number): Draft<Fix> {
  return {
    pointId: '',
    code: '',
    epochMs: null,
    geodetic,
    geocentric: null,
    referencePoint: null,
    solution: null,
    correctionAgeS: null,
    satellitesUsed: null,
    pdop: null,
    hdop: null,
    vdop: null,
    sigmaEastM: null,
    sigmaNorthM: null,
    sigmaUpM: null,
    correlationEn: null,
    baseId: null,
    poleLengthM: null,
    tiltDeg: null,
    tiltAzimuthDeg: null,
    epochCount: 1,
    note: '',
    passThrough: NO_CELLS,
    place: { sourceIndex, line },
  };
}

/** Columns of a fix that come out again beside its point: those we do not know, and those that say so. */
export function passingColumns(map: ColumnMap): readonly PassThroughColumn[] {
  const carried = FIX_COLUMNS.filter(({ isCarried }) => isCarried === true)
    .map(({ name }) => ({ name, index: map.index(name) }))
    .filter(({ index }) => index >= 0);
  return carried.length === 0 ? map.passThrough : [...map.passThrough, ...carried].sort((a, b) => a.index - b.index);
}

/**
 * A reader of one fix from one row. The row must be current in `cells`.
 * Problems (in the cell reader): those of its cells and of its position (`createFixPosition`); tilt-azimuth-missing.
 */
export function createFixRow(map: ColumnMap, cells: RowCells, options: FixRowOptions): FixRow {
  const { sourceIndex, solution = null } = options;
  const read = (name: string): (() => number | null) => numberRead(name, FIX_COLUMNS, cells);
  const readPosition = createFixPosition(map, cells, options);
  const readId = idRead('point_id', FIX_COLUMNS, cells);
  const readTilt = read('tilt_deg');
  const readTiltAzimuth = read('tilt_azimuth_deg');
  const fill = createRowFiller(FIX_COLUMNS, cells);
  const passing = passingColumns(map);
  let lastId = '';

  return (line) => {
    const fix = blankFix(NOWHERE, sourceIndex, line);
    fix.solution = solution;
    // Epochs of one point follow each other: one string serves them all.
    const id = readId() ?? '';
    if (id !== lastId) lastId = id;
    fix.pointId = lastId;
    readPosition(fix);
    fix.tiltDeg = readTilt();
    fix.tiltAzimuthDeg = readTiltAzimuth();
    if (fix.tiltDeg !== null && fix.tiltDeg > 0 && fix.tiltAzimuthDeg === null && cells.problems.length === 0) {
      cells.report(
        'tilt-azimuth-missing',
        cells.column('tilt_azimuth_deg'),
        `the tilt of ${String(fix.tiltDeg)} degrees has no azimuth`,
        'add tilt_azimuth_deg',
      );
    }
    fill(fix);
    if (passing.length > 0) fix.passThrough = passing.map(cells.text);
    return cells.problems.length > 0 || fix.geodetic === NOWHERE ? null : fix;
  };
}
