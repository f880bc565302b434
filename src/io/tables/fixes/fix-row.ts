import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../records/points/point.js';
import type { RowCells } from '../../csv/cell-read.js';
import type { ColumnMap, PassThroughColumn } from '../columns/column-map.js';
import { REFERENCE_POINT_WORDS, SOLUTION_WORDS } from './fix-words.js';

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

/** Distance from the earth's centre, metres, within which a geocentric position is taken for one near the ground. */
const LEAST_RADIUS_M = 6_300_000;
const GREATEST_RADIUS_M = 6_500_000;

/** Columns of a fix that come out again beside its point: those we do not know, and `note`. */
export function passingColumns(map: ColumnMap): readonly PassThroughColumn[] {
  const index = map.index('note');
  return index < 0 ? map.passThrough : [...map.passThrough, { name: 'note', index }].sort((a, b) => a.index - b.index);
}

/**
 * A reader of one fix from one row. The row must be current in `cells`.
 * Problems (in the cell reader): those of its cells; coordinate-implausible for a geocentric position far from the
 * ground; tilt-azimuth-missing.
 */
export function createFixRow(map: ColumnMap, cells: RowCells, options: FixRowOptions): FixRow {
  const pointId = cells.column('point_id');
  const code = cells.column('code');
  const epoch = cells.column('epoch_utc');
  const latitude = cells.column('latitude_deg');
  const longitude = cells.column('longitude_deg');
  const height = cells.column('ellipsoidal_height_m');
  const x = cells.column('x_m');
  const y = cells.column('y_m');
  const z = cells.column('z_m');
  const referencePoint = cells.column('reference_point');
  const solution = cells.column('solution');
  const age = cells.column('correction_age_s');
  const satellites = cells.column('satellites_used');
  const pdop = cells.column('pdop');
  const hdop = cells.column('hdop');
  const vdop = cells.column('vdop');
  const sigmaEast = cells.column('sigma_east_m');
  const sigmaNorth = cells.column('sigma_north_m');
  const sigmaUp = cells.column('sigma_up_m');
  const correlation = cells.column('correlation_en');
  const base = cells.column('base_id');
  const pole = cells.column('pole_length_m');
  const tilt = cells.column('tilt_deg');
  const tiltAzimuth = cells.column('tilt_azimuth_deg');
  const count = cells.column('epoch_count');
  const note = cells.column('note');
  const isGeodetic = latitude.index >= 0 && longitude.index >= 0 && height.index >= 0;
  const passing = passingColumns(map);
  let lastId = '';

  function geodeticPoint(): GeodeticPoint | null {
    const latitudeDeg = cells.latitude(latitude, longitude);
    const longitudeDeg = cells.longitude(longitude);
    const ellipsoidalHeightM = cells.requiredNumber(height, -12_000, 100_000);
    if (latitudeDeg === null || longitudeDeg === null || ellipsoidalHeightM === null) return null;
    return { latitudeDeg, longitudeDeg, ellipsoidalHeightM };
  }

  function geocentricPoint(): GeocentricPoint | null {
    const xM = cells.requiredNumber(x, -1e8, 1e8);
    const yM = cells.requiredNumber(y, -1e8, 1e8);
    const zM = cells.requiredNumber(z, -1e8, 1e8);
    if (xM === null || yM === null || zM === null) return null;
    const radiusM = Math.hypot(xM, yM, zM);
    if (radiusM >= LEAST_RADIUS_M && radiusM <= GREATEST_RADIUS_M) return { xM, yM, zM };
    const message = `the position lies ${formatFixed(radiusM, 0)} m from the earth's centre`;
    cells.report(
      'coordinate-implausible',
      x,
      message,
      'geocentric positions near the ground lie about 6 370 000 m from it',
    );
    return null;
  }

  return (line) => {
    let id = cells.requiredId(pointId);
    // Epochs of one point follow each other: one string serves them all.
    if (id === lastId) id = lastId;
    else lastId = id ?? '';
    const geocentric = isGeodetic ? null : geocentricPoint();
    const geodetic = isGeodetic ? geodeticPoint() : geocentric === null ? null : options.toGeodetic(geocentric);
    const tiltDeg = cells.optionalNumber(tilt, 0, 90);
    const tiltAzimuthDeg = cells.optionalNumber(tiltAzimuth, -360, 360);
    if (tiltDeg !== null && tiltDeg > 0 && tiltAzimuthDeg === null && cells.problems.length === 0) {
      cells.report(
        'tilt-azimuth-missing',
        tiltAzimuth,
        `the tilt of ${String(tiltDeg)} degrees has no azimuth`,
        'add tilt_azimuth_deg',
      );
    }
    const fix = {
      pointId: id ?? '',
      code: cells.text(code),
      epochMs: cells.time(epoch),
      geodetic,
      geocentric,
      referencePoint: cells.word(referencePoint, REFERENCE_POINT_WORDS),
      solution: cells.word(solution, SOLUTION_WORDS),
      correctionAgeS: cells.optionalNumber(age, 0, 1e9),
      satellitesUsed: cells.optionalWhole(satellites, 0, 999),
      pdop: cells.optionalNumber(pdop, 0, 1e6),
      hdop: cells.optionalNumber(hdop, 0, 1e6),
      vdop: cells.optionalNumber(vdop, 0, 1e6),
      sigmaEastM: cells.optionalNumber(sigmaEast, 0, 1e6),
      sigmaNorthM: cells.optionalNumber(sigmaNorth, 0, 1e6),
      sigmaUpM: cells.optionalNumber(sigmaUp, 0, 1e6),
      correlationEn: cells.optionalNumber(correlation, -1, 1),
      baseId: cells.optionalId(base),
      poleLengthM: cells.optionalNumber(pole, 0, 100),
      tiltDeg,
      tiltAzimuthDeg,
      epochCount: cells.optionalWhole(count, 1, 1e9) ?? 1,
      note: cells.text(note),
      passThrough: passing.length === 0 ? NO_CELLS : passing.map((column) => cells.text(column)),
      place: { sourceIndex: options.sourceIndex, line },
    };
    if (cells.problems.length > 0 || geodetic === null) return null;
    return fix as Fix;
  };
}
