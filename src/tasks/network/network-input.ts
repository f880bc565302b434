import { geocentricToGeodetic, geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { geodeticGap, placesApart, unsaidInPlanM } from '../../core/ellipsoid/one-place.js';
import { localFrameAt } from '../../core/ellipsoid/local-frame.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GeographicPair, GridSystem } from '../../core/grid/systems/grid-system.js';
import type { ControlPoint, Network, SharedError, VectorObservation } from '../../core/network/network.js';
import { geocentricCovariance } from '../../core/network/relative-accuracy.js';
import { ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import type { ControlHold, LineRow, NetworkControlRow, VectorRow } from '../../records/network-rows.js';
import { failure, success } from '../../records/outcome.js';
import { present } from '../../records/present.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeocentricPoint, GeodeticPoint } from '../../records/points/point.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** What places of a network are in. */
export interface NetworkSystems {
  readonly ellipsoid: Ellipsoid;
  /** Null: no grid system is named, and no grid values are read or written. */
  readonly grid: GridSystem | null;
  readonly geoid: GeoidModel | null;
  /** One sigma of the geoid height; null: not stated. */
  readonly geoidSigmaM: number | null;
}

/** One sigma per horizontal axis and in height of setting up over a mark anew, metres. */
export interface SetupSigmas {
  readonly horizontalM: number;
  readonly verticalM: number;
}

type LatitudeLongitude = Pick<GeodeticPoint, 'latitudeDeg' | 'longitudeDeg'>;

/** A slope of the geoid's error, one sigma in each direction, metres a kilometre. An assumption. */
const GEOID_TILT_SIGMA_M_PER_KM = 0.002;

const NOTHING_SHARED: VectorObservation['shared'] = [];

/** The vectors of a file, and the errors that those of one set-up share. */
export function vectorsOf(
  rows: readonly VectorRow[],
  setup: SetupSigmas,
): { readonly vectors: readonly VectorObservation[]; readonly shared: readonly SharedError[] } {
  const shared = new Map<string, SharedError>();
  /** What the vectors of a set-up share, once for all of them. */
  const terms = new Map<string, VectorObservation['shared']>();
  const vectors = rows.map((row): VectorObservation => {
    const { fromId, toId, geocentric, local } = row;
    const name = row.baseSetup === '' && row.day === '' ? null : setupName(row);
    if (name !== null && !shared.has(name)) {
      terms.set(name, [{ error: name, along: 'whole' }]);
      shared.set(name, {
        name,
        of: `set-ups of ${fromId}`,
        covariance: { stationId: fromId, local: setupCovariance(setup) },
      });
    }
    return {
      fromId,
      toId,
      difference: { xM: row.dxM, yM: row.dyM, zM: row.dzM },
      covariance: geocentric ?? { stationId: fromId, local: localOf(local!) },
      shared: name === null ? NOTHING_SHARED : (terms.get(name) ?? NOTHING_SHARED),
    };
  });
  return { vectors, shared: [...shared.values()].sort((a, b) => (a.name < b.name ? -1 : 1)) };
}

/** The error of a set-up in its own axes, m². */
export function setupCovariance({ horizontalM, verticalM }: SetupSigmas): typeof ZERO_COVARIANCE {
  return { ...ZERO_COVARIANCE, eeM2: horizontalM ** 2, nnM2: horizontalM ** 2, uuM2: verticalM ** 2 };
}

function setupName({ fromId, baseSetup, day }: VectorRow): string {
  return ['set-up', fromId, baseSetup, day].filter((word) => word !== '').join(' ');
}

function localOf({
  sigmaEastM,
  sigmaNorthM,
  sigmaUpM,
  correlationEn,
}: NonNullable<VectorRow['local']>): typeof ZERO_COVARIANCE {
  return {
    ...ZERO_COVARIANCE,
    eeM2: sigmaEastM ** 2,
    enM2: correlationEn * sigmaEastM * sigmaNorthM,
    nnM2: sigmaNorthM ** 2,
    uuM2: sigmaUpM ** 2,
  };
}

/**
 * A control point from its row.
 *
 * Given: the row; the systems. Returned: the point; its part of the geoid height where an orthometric height was used.
 * What holds where nothing is said: all of it, with the stated sigmas (weighted) or, without any, without error (fixed); one of
 * two sigmas holds that part alone. Problems: those of projection and geoid; value-missing where an orthometric height has no geoid.
 */
export function controlOf(
  row: NetworkControlRow,
  systems: NetworkSystems,
): Outcome<{ readonly point: ControlPoint; readonly geoidHeightM: number | null }> {
  const { ellipsoid, geoid } = systems;
  const planar = placeOf(row, systems.grid);
  if (!planar.ok) return planar;
  const place = planar.value;
  const held = row.held ?? heldBySigmas(row);
  if (place === null && row.geocentric === null) {
    const sigma = row.sigmaVerticalM;
    const point: ControlPoint = {
      id: row.pointId,
      position: null,
      orthometricHeightM: row.orthometricHeightM,
      held: held === 'fixed' ? 'fixed' : 'height',
      covariance: null,
      heightVarianceM2: held === 'fixed' || sigma === null ? null : sigma * sigma,
    };
    return success({ point, geoidHeightM: null });
  }
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
  if (held === 'weighted' && (row.sigmaHorizontalM === null || row.sigmaVerticalM === null))
    return failure(noWeight(row));
  const [plan, up] = [varianceOf(row.sigmaHorizontalM), varianceOf(row.sigmaVerticalM)];
  const c = geocentricCovariance(
    { ...ZERO_COVARIANCE, eeM2: plan, nnM2: plan, uuM2: up },
    localFrameAt(geodetic.latitudeDeg, geodetic.longitudeDeg),
  );
  return success({
    geoidHeightM,
    point: {
      id: row.pointId,
      position,
      orthometricHeightM: geoidHeightM === null ? null : row.orthometricHeightM,
      held,
      covariance: held === 'fixed' ? null : c,
      heightVarianceM2: null,
    },
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
    const out: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
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

/** The network of everything given; sorted, so that the order of files and rows changes no digit. */
export function networkOf(
  parts: {
    readonly vectors: readonly VectorObservation[];
    readonly shared: readonly SharedError[];
    readonly levelled: readonly LineRow[];
    readonly distances: readonly LineRow[];
    readonly control: readonly ControlPoint[];
    readonly geoidHeightM: ReadonlyMap<string, number>;
  },
  systems: NetworkSystems,
): Network {
  return {
    ellipsoid: systems.ellipsoid,
    vectors: parts.vectors,
    levelled: parts.levelled.map(({ fromId, toId, valueM, sigmaM }) => ({ fromId, toId, differenceM: valueM, sigmaM })),
    distances: parts.distances.map(({ fromId, toId, valueM, sigmaM, fromUpM, toUpM }) => ({
      fromId,
      toId,
      distanceM: valueM,
      sigmaM,
      fromUpM,
      toUpM,
    })),
    control: parts.control,
    shared: parts.shared,
    geoidHeightM: parts.geoidHeightM,
    geoidError:
      systems.geoidSigmaM === null
        ? null
        : { constantSigmaM: systems.geoidSigmaM, tiltSigmaMPerKm: GEOID_TILT_SIGMA_M_PER_KM },
  };
}
