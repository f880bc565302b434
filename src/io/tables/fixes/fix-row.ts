import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../records/points/point.js';
import type { RowCells } from '../../csv/cell-read.js';
import type { Draft } from '../columns/column.js';
import type { ColumnMap, PassThroughColumn } from '../columns/column-map.js';
import { createRowFiller, idRead, numberRead } from '../columns/row-reader.js';
import { FIX_COLUMNS } from './fix-columns.js';

/** Turns the current row of a cell reader into a fix; null when the reader reported a problem. */
export type FixRow = (line: number) => Fix | null;

/** What the reader of fixes needs from outside. */
export interface FixRowOptions {
  /** Index of the file in the run's list of inputs. */
  readonly sourceIndex: number;
  /** Geocentric to geodetic on the ellipsoid of the fixes. */
  readonly toGeodetic: (point: GeocentricPoint) => GeodeticPoint;
}

const NO_CELLS: readonly string[] = Object.freeze([]);
/** Stands for the position of a row that has none; such a row is refused. */
const NOWHERE: GeodeticPoint = Object.freeze({ latitudeDeg: NaN, longitudeDeg: NaN, ellipsoidalHeightM: NaN });

/** Distance from the earth's centre, metres, within which a geocentric position is taken for one near the ground. */
const LEAST_RADIUS_M = 6_300_000;
const GREATEST_RADIUS_M = 6_500_000;

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
 * Problems (in the cell reader): those of its cells; coordinate-implausible for a geocentric position far from the
 * ground; tilt-azimuth-missing.
 */
export function createFixRow(map: ColumnMap, cells: RowCells, options: FixRowOptions): FixRow {
  const { sourceIndex, toGeodetic } = options;
  const read = (name: string): (() => number | null) => numberRead(name, FIX_COLUMNS, cells);
  const readLatitude = read('latitude_deg');
  const readLongitude = read('longitude_deg');
  const readHeight = read('ellipsoidal_height_m');
  const readX = read('x_m');
  const readY = read('y_m');
  const readZ = read('z_m');
  const isGeodetic = ['latitude_deg', 'longitude_deg', 'ellipsoidal_height_m'].every((name) => map.index(name) >= 0);
  const readId = idRead('point_id', FIX_COLUMNS, cells);
  const readTilt = read('tilt_deg');
  const readTiltAzimuth = read('tilt_azimuth_deg');
  const fill = createRowFiller(FIX_COLUMNS, cells);
  const passing = passingColumns(map);
  let lastId = '';

  function geodeticPoint(): GeodeticPoint | null {
    const latitudeDeg = readLatitude();
    const longitudeDeg = readLongitude();
    const ellipsoidalHeightM = readHeight();
    if (latitudeDeg === null || longitudeDeg === null || ellipsoidalHeightM === null) return null;
    return { latitudeDeg, longitudeDeg, ellipsoidalHeightM };
  }

  function geocentricPoint(): GeocentricPoint | null {
    const xM = readX();
    const yM = readY();
    const zM = readZ();
    if (xM === null || yM === null || zM === null) return null;
    const radiusM = Math.hypot(xM, yM, zM);
    if (radiusM >= LEAST_RADIUS_M && radiusM <= GREATEST_RADIUS_M) return { xM, yM, zM };
    const message = `the position lies ${formatFixed(radiusM, 0)} m from the earth's centre`;
    cells.report(
      'coordinate-implausible',
      cells.column('x_m'),
      message,
      'geocentric positions near the ground lie about 6 370 000 m from it',
    );
    return null;
  }

  return (line) => {
    const fix = blankFix(NOWHERE, sourceIndex, line);
    // Epochs of one point follow each other: one string serves them all.
    const id = readId() ?? '';
    if (id !== lastId) lastId = id;
    fix.pointId = lastId;
    if (isGeodetic) fix.geodetic = geodeticPoint() ?? NOWHERE;
    else {
      fix.geocentric = geocentricPoint();
      if (fix.geocentric !== null) fix.geodetic = toGeodetic(fix.geocentric);
    }
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
