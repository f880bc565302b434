import { geocentricToGeodetic, geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import { geodeticGap, placesApart, unsaidInPlanM } from '../../../core/ellipsoid/one-place.js';
import { localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import { gridProblem } from '../../../core/grid/systems/grid-problem.js';
import type { GeographicPair, GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { ControlPoint } from '../../../core/network/network.js';
import { geocentricCovariance } from '../../../core/network/equations/relative-accuracy.js';
import { ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import type { ControlHold, NetworkControlRow } from '../../../records/network-rows.js';
import { failure, success } from '../../../records/outcome.js';
import { present } from '../../../records/present.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../records/points/point.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { PositionChoice } from '../../join/one-position.js';
import type { NetworkSystems } from './network-input.js';

type LatitudeLongitude = Pick<GeodeticPoint, 'latitudeDeg' | 'longitudeDeg'>;

/**
 * A control point from its row.
 *
 * Given: the row; the systems. Returned: the point; its part of the geoid height where an orthometric height was used.
 * What holds where nothing is said: all of it, with the stated sigmas (weighted) or, without any, without error (fixed); one of
 * two sigmas holds that part alone. Problems: those of projection and geoid; value-missing where an orthometric height has no geoid.
 */
export function controlOf(
  stated: NetworkControlRow,
  systems: NetworkSystems,
  positionFrom: PositionChoice,
): Outcome<{ readonly point: ControlPoint; readonly geoidHeightM: number | null }> {
  const { ellipsoid, geoid } = systems;
  const row = withChosenPosition(stated, positionFrom);
  const planar = placeOf(row, systems.grid);
  if (!planar.ok) return planar;
  const place = planar.value;
  const held = row.held ?? heldBySigmas(row);
  if (place === null && row.geocentric === null) return success({ point: heightAlone(row, held), geoidHeightM: null });
  let position: GeocentricPoint;
  let geodetic: { readonly latitudeDeg: number; readonly longitudeDeg: number };
  let geoidHeightM: number | null = null;
  if (row.geocentric !== null) {
    position = row.geocentric;
    geodetic = geocentricToGeodetic(position, ellipsoid);
  } else {
    geodetic = place!;
    let h = row.ellipsoidalHeightM;
    if (h === null) {
      const n = geoid === null ? null : geoid.heightAt(geodetic.latitudeDeg, geodetic.longitudeDeg);
      if (geoid === null) return failure(noGeoid(row.pointId));
      if (n === null) return failure(geoidProblem('outside', geodetic.latitudeDeg, geodetic.longitudeDeg, geoid.grid));
      geoidHeightM = n;
      h = present(row.orthometricHeightM, 'the height of a control point') + n;
    }
    position = geodeticToGeocentric({ ...geodetic, ellipsoidalHeightM: h }, ellipsoid);
  }
  const mismatch = placeMismatch(row, planar.value, geodetic, position, systems);
  if (mismatch !== null) return failure(mismatch);
  const heights = heightsProblem(row, geodetic, position, systems);
  if (heights?.severity === 'error') return failure(heights);
  if (held === 'weighted' && (row.sigmaHorizontalM === null || row.sigmaVerticalM === null))
    return failure(noWeight(row));
  const [plan, up] = [varianceOf(row.sigmaHorizontalM), varianceOf(row.sigmaVerticalM)];
  const c = geocentricCovariance(
    { ...ZERO_COVARIANCE, eeM2: plan, nnM2: plan, uuM2: up },
    localFrameAt(geodetic.latitudeDeg, geodetic.longitudeDeg),
  );
  const found = {
    geoidHeightM,
    point: {
      id: row.pointId,
      position,
      orthometricHeightM: geoidHeightM === null ? null : row.orthometricHeightM,
      held,
      covariance: held === 'fixed' ? null : c,
      heightVarianceM2: null,
    },
  };
  return success(found, heights === null ? [] : [heights]);
}

/** A control point of which only the orthometric height is known. */
function heightAlone(row: NetworkControlRow, held: ControlHold): ControlPoint {
  const sigma = row.sigmaVerticalM;
  return {
    id: row.pointId,
    position: null,
    orthometricHeightM: row.orthometricHeightM,
    held: held === 'fixed' ? 'fixed' : 'height',
    covariance: null,
    heightVarianceM2: held === 'fixed' || sigma === null ? null : sigma * sigma,
  };
}

/** The row without the position that does not count. */
function withChosenPosition(row: NetworkControlRow, positionFrom: PositionChoice): NetworkControlRow {
  const hasGrid = row.gridFirst !== null && row.gridSecond !== null;
  const hasGeographic = row.latitudeDeg !== null && row.longitudeDeg !== null;
  if (positionFrom === null || !hasGrid || !hasGeographic) return row;
  return positionFrom === 'grid'
    ? { ...row, latitudeDeg: null, longitudeDeg: null }
    : { ...row, gridFirst: null, gridSecond: null };
}

/** The share of clean rows whose two heights are refused: the quantile of the normal curve at 1 %, both sides. */
const HEIGHTS_LIMIT = 2.575829;
/** Heights are typed to a millimetre, and geoid heights to another. */
const HEIGHTS_ROUNDING_M = 0.002;

/**
 * Of a row with an ellipsoidal height (or X, Y, Z) and an orthometric one: H against h − N. The ellipsoidal one holds; two that differ
 * by more than the geoid's sigma and the row's own explain are two places, or two vertical datums. Null: nothing to say.
 */
function heightsProblem(
  row: NetworkControlRow,
  { latitudeDeg, longitudeDeg }: Pick<GeodeticPoint, 'latitudeDeg' | 'longitudeDeg'>,
  position: GeocentricPoint,
  { ellipsoid, geoid, geoidSigmaM }: NetworkSystems,
): Problem | null {
  const { pointId, orthometricHeightM: orthometric } = row;
  if (orthometric === null || (row.ellipsoidalHeightM === null && row.geocentric === null)) return null;
  const n = geoid === null ? null : geoid.heightAt(latitudeDeg, longitudeDeg);
  if (n === null)
    return warningProblem('network-heights', {
      message: `the orthometric height of ${pointId} is not compared with its ellipsoidal one, which holds: there is no geoid there`,
      hint: 'give --geoid, or leave one of the two heights out',
    });
  const fromEllipsoid = geocentricToGeodetic(position, ellipsoid).ellipsoidalHeightM - n;
  const apartM = Math.abs(fromEllipsoid - orthometric);
  // What states no sigma explains nothing of a difference.
  const sigmaM = Math.hypot(geoidSigmaM ?? 0, row.sigmaVerticalM ?? 0);
  if (apartM <= HEIGHTS_ROUNDING_M + HEIGHTS_LIMIT * sigmaM) return null;
  const message = `the orthometric height of ${pointId} is ${formatFixed(apartM, 3)} m ${orthometric > fromEllipsoid ? 'above' : 'below'} what its ellipsoidal height and the geoid give`;
  return geoidSigmaM === null
    ? warningProblem('network-heights', {
        message: `${message}; the ellipsoidal one holds`,
        hint: 'without a sigma of the geoid nothing says whether that is much: set height.sigma_m in the session, or leave one height out',
      })
    : errorProblem('network-heights', {
        message: `${message}, more than a geoid of ${formatFixed(geoidSigmaM, 3)} m, one sigma, explains`,
        hint: 'check both heights and their datums, and leave the wrong one out',
      });
}

/** Of a part that holds and states no sigma: it holds without error. */
function varianceOf(sigmaM: number | null): number {
  return sigmaM === null ? 0 : sigmaM * sigmaM;
}

function heldBySigmas({ sigmaHorizontalM, sigmaVerticalM }: NetworkControlRow): ControlHold {
  if (sigmaHorizontalM === null && sigmaVerticalM === null) return 'fixed';
  if (sigmaVerticalM === null) return 'plan';
  return sigmaHorizontalM === null ? 'height' : 'weighted';
}

function placeOf(row: NetworkControlRow, grid: GridSystem | null): Outcome<LatitudeLongitude | null> {
  const { latitudeDeg, longitudeDeg, gridFirst, gridSecond } = row;
  if (gridFirst !== null && gridSecond !== null && grid !== null) {
    const out: GeographicPair = { latitudeDeg: NaN, longitudeDeg: NaN };
    const status = grid.inverse(gridFirst, gridSecond, out);
    return status === 'ok'
      ? success(out)
      : failure(gridProblem(status, { first: gridFirst, second: gridSecond }, grid));
  }
  return success(latitudeDeg === null || longitudeDeg === null ? null : { latitudeDeg, longitudeDeg });
}

/** Of a row with more than one form of its place, the problem of any that is another place than the one used; null where all agree. */
function placeMismatch(
  row: NetworkControlRow,
  planar: LatitudeLongitude | null,
  used: LatitudeLongitude,
  position: GeocentricPoint,
  { ellipsoid, grid }: NetworkSystems,
): Problem | null {
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM, geocentric } = row;
  const written = row.roundings ?? { geocentricM: 0, gridUnits: 0, angleDeg: 0, heightM: 0 };
  const lengthM = Math.max(
    geocentric === null ? 0 : written.geocentricM,
    grid === null ? 0 : written.gridUnits * grid.axes[0].metresPerUnit,
  );
  const stated = latitudeDeg === null || longitudeDeg === null ? [] : [{ latitudeDeg, longitudeDeg }];
  const here = { ...used, ellipsoidalHeightM: geocentricToGeodetic(position, ellipsoid).ellipsoidalHeightM };
  const others = [...stated, ...(planar === null ? [] : [planar])].map((place) => ({ ...here, ...place }));
  if (ellipsoidalHeightM !== null) others.push({ ...here, ellipsoidalHeightM });
  for (const other of others) {
    const words = placesApart({
      ...geodeticGap(here, other, ellipsoid),
      planUnsaidM: unsaidInPlanM(lengthM, written.angleDeg),
      upUnsaidM: written.heightM + written.geocentricM,
    });
    if (words !== null)
      return errorProblem('position-mismatch', {
        message: `${row.pointId} states its place more than once, ${words}`,
        hint: 'keep the one that holds: leave the columns of the others out of the file',
      });
  }
  return null;
}

function noWeight({ pointId, sigmaHorizontalM }: NetworkControlRow): Problem {
  return errorProblem('value-missing', {
    message: `${pointId} is to be weighted, and ${sigmaHorizontalM === null ? 'sigma_horizontal_m' : 'sigma_vertical_m'} is not stated`,
    hint: 'state both sigmas, or what part holds: plan, height or fixed',
  });
}

function noGeoid(id: string): Problem {
  return errorProblem('value-missing', {
    message: `${id} has an orthometric height, and there is no geoid`,
    hint: 'give --geoid, or the ellipsoidal height',
  });
}
