import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import type { GeoidModel } from '../../../core/geoid/geoid-height.js';
import { gridProblem } from '../../../core/grid/systems/grid-problem.js';
import type { GeographicPair, GridSystem } from '../../../core/grid/systems/grid-system.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../records/points/point.js';
import type { RowCells } from '../../csv/cell-read.js';
import type { Draft } from '../../../records/draft.js';
import type { ColumnMap } from '../columns/column-map.js';
import { numberRead } from '../columns/row-reader.js';
import { FIX_COLUMNS, fixTable } from './fix-table.js';

/** How positions that are not geodetic become so. */
export interface FixPlaces {
  /** Geocentric to geodetic on the ellipsoid of the fixes. */
  readonly toGeodetic: (point: GeocentricPoint) => GeodeticPoint;
  /** The system of fixes that are grid coordinates; null or absent: none is stated. */
  readonly grid?: GridSystem | null;
  /** The geoid that heights above it are of, in the system of the fixes; null or absent: none is stated. */
  readonly geoid?: GeoidModel | null;
}

/** Stands for the position of a row that has none; such a row is refused. */
export const NOWHERE: GeodeticPoint = Object.freeze({ latitudeDeg: NaN, longitudeDeg: NaN, ellipsoidalHeightM: NaN });

/** Distance from the earth's centre, metres, within which a geocentric position is taken for one near the ground. */
const LEAST_RADIUS_M = 6_300_000;
const GREATEST_RADIUS_M = 6_500_000;

/**
 * A reader of the position of one fix, which it lays into the fix; `NOWHERE` where a problem was reported.
 * Problems (in the cell reader): those of its cells; coordinate-implausible for a geocentric position far from the ground; those of a
 * grid position outside its system; config-missing, grid-outside and grid-nodata for a height above a geoid that has none there.
 */
export function createFixPosition(map: ColumnMap, cells: RowCells, places: FixPlaces): (fix: Draft<Fix>) => void {
  const { toGeodetic, grid = null, geoid = null } = places;
  const has = (...names: readonly string[]): boolean => names.every((name) => map.index(name) >= 0);
  const heightName = has('ellipsoidal_height_m') ? 'ellipsoidal_height_m' : 'orthometric_height_m';
  const toEllipsoidal = heightName === 'ellipsoidal_height_m' ? null : createToEllipsoidal(cells, heightName, geoid);
  const readHeight = numberRead(heightName, FIX_COLUMNS, cells);
  const unproject = grid === null ? null : createUnproject(cells, grid, map);
  if (!has('latitude_deg', 'longitude_deg', heightName) && unproject === null) {
    const readGeocentric = createGeocentric(cells);
    return (fix) => {
      fix.geocentric = readGeocentric();
      fix.geodetic = fix.geocentric === null ? NOWHERE : toGeodetic(fix.geocentric);
    };
  }
  const readPlan = has('latitude_deg', 'longitude_deg') || unproject === null ? createGeographic(cells) : unproject;
  return (fix) => {
    const plan = readPlan();
    const heightM = readHeight();
    if (plan === null || heightM === null) return;
    const { latitudeDeg, longitudeDeg } = plan;
    const ellipsoidalHeightM = toEllipsoidal === null ? heightM : toEllipsoidal(latitudeDeg, longitudeDeg, heightM);
    if (ellipsoidalHeightM !== null) fix.geodetic = { latitudeDeg, longitudeDeg, ellipsoidalHeightM };
  };
}

/** A reader of latitude and longitude. The record it gives is the same each time. */
function createGeographic(cells: RowCells): () => GeographicPair | null {
  const readLatitude = numberRead('latitude_deg', FIX_COLUMNS, cells, true);
  const readLongitude = numberRead('longitude_deg', FIX_COLUMNS, cells, true);
  const place: GeographicPair = { latitudeDeg: NaN, longitudeDeg: NaN };
  return () => {
    const latitudeDeg = readLatitude();
    const longitudeDeg = readLongitude();
    if (latitudeDeg === null || longitudeDeg === null) return null;
    place.latitudeDeg = latitudeDeg;
    place.longitudeDeg = longitudeDeg;
    return place;
  };
}

/** A reader of geocentric positions; null where it reported a problem. */
function createGeocentric(cells: RowCells): () => GeocentricPoint | null {
  const [readX, readY, readZ] = ['x_m', 'y_m', 'z_m'].map((name) => numberRead(name, FIX_COLUMNS, cells)) as [
    () => number | null,
    () => number | null,
    () => number | null,
  ];
  return () => {
    const xM = readX();
    const yM = readY();
    const zM = readZ();
    if (xM === null || yM === null || zM === null) return null;
    const radiusM = Math.hypot(xM, yM, zM);
    if (radiusM >= LEAST_RADIUS_M && radiusM <= GREATEST_RADIUS_M) return { xM, yM, zM };
    cells.report(
      'coordinate-implausible',
      cells.column('x_m'),
      `the position lies ${formatFixed(radiusM, 0)} m from the earth's centre`,
      'geocentric positions near the ground lie about 6 370 000 m from it',
    );
    return null;
  };
}

/** A reader of a grid pair as latitude and longitude; null where there is none in the table. */
function createUnproject(cells: RowCells, grid: GridSystem, map: ColumnMap): (() => GeographicPair | null) | null {
  const [first, second] = grid.axes.map(({ columnName }) => columnName) as [string, string];
  if (map.index(first) < 0 || map.index(second) < 0) return null;
  const columns = fixTable({ header: [first, second], hasHeader: true }, {}, [first, second]).columns;
  const readFirst = numberRead(first, columns, cells);
  const readSecond = numberRead(second, columns, cells);
  const place: GeographicPair = { latitudeDeg: NaN, longitudeDeg: NaN };
  return () => {
    const pair = { first: readFirst(), second: readSecond() };
    if (pair.first === null || pair.second === null) return null;
    const status = grid.inverse(pair.first, pair.second, place);
    if (status === 'ok') return place;
    const problem = gridProblem(status, { first: pair.first, second: pair.second }, grid);
    cells.report(problem.code, cells.column(first), problem.message, problem.hint);
    return null;
  };
}

/** Height above the ellipsoid of one above the geoid; null where the geoid has none there, which is reported. */
function createToEllipsoidal(
  cells: RowCells,
  name: string,
  geoid: GeoidModel | null,
): (latitudeDeg: number, longitudeDeg: number, heightM: number) => number | null {
  const at = cells.column(name);
  return (latitudeDeg, longitudeDeg, heightM) => {
    const geoidHeightM = geoid?.heightAt(latitudeDeg, longitudeDeg) ?? null;
    if (geoidHeightM !== null) return heightM + geoidHeightM;
    if (geoid === null)
      cells.report(
        'config-missing',
        at,
        'a height above the geoid needs the geoid that it was made with',
        'set height.geoid in the session, or map the column of heights above the ellipsoid',
      );
    else {
      const status = geoid.statusAt(latitudeDeg, longitudeDeg) === 'nodata' ? 'nodata' : 'outside';
      const problem = geoidProblem(status, latitudeDeg, longitudeDeg, geoid.grid);
      cells.report(problem.code, at, problem.message, problem.hint);
    }
    return null;
  };
}
