import { InternalError } from '../../records/internal-error.js';
import { geocentricToGeodetic } from '../ellipsoid/geocentric.js';
import type { LocalFrame } from '../ellipsoid/local-frame.js';
import { congruence3, inverse3 } from '../numeric/symmetric3.js';
import type { Matrix3, Symmetric3 } from '../numeric/symmetric3.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { BlockEquations, BlockObservation, BlockTerm } from './block-equations.js';
import { FIXED_SIGMA_M } from './network.js';
import type { ControlPoint, CovarianceAt, GeoidError, Network } from './network.js';
import { geocentricCovariance } from './relative-accuracy.js';
import type { NetworkStation, StationList } from './network-stations.js';

/** What an equation stands for; `index` is the place in the network's own list of that kind. */
export interface EquationOrigin {
  readonly kind: 'vector' | 'levelled' | 'distance' | 'control' | 'shared' | 'geoid';
  readonly index: number;
}

/** Equations of a network, and what each is. */
export interface NetworkEquations {
  readonly equations: BlockEquations;
  readonly origins: readonly EquationOrigin[];
  /** Block of each station, and of each shared error after them. */
  readonly stationBlock: (index: number) => number;
  readonly sharedBlock: (index: number) => number;
  /** Of the geoid's constant and its tilt east and north; null where orthometric heights meet none. */
  readonly geoidBlocks: readonly [number, number, number] | null;
}

/** Which control is used, and which observations are left out. */
export interface EquationChoice {
  /** Control that holds, as it stands; for a minimal datum one of each part, held fixed. */
  readonly control: readonly { readonly point: ControlPoint; readonly index: number }[];
  /** Places in the network's own lists of observations that are left out. */
  readonly leftOut: { readonly has: (kind: EquationOrigin['kind'], index: number) => boolean };
}

const FIXED_VARIANCE_M2 = FIXED_SIGMA_M ** 2;
const PER_KM = 1e-3;

/**
 * The observation equations of a network at its approximate values.
 *
 * Given: the network; its stations; what of it is used. Returned: the equations in the order vectors, levelled differences,
 * distances, control, shared errors, geoid; unknowns are corrections in metres to the approximate values, geocentric.
 * Errors: InternalError for a covariance that is not positive definite; the caller has checked.
 */
export function networkEquations(network: Network, list: StationList, choice: EquationChoice): NetworkEquations {
  const { stations, indexOf } = list;
  const sharedAt = new Map(network.shared.map(({ name }, index) => [name, index]));
  const sharedBlock = (index: number): number => stations.length + index;
  const meetsGeoid =
    network.geoidError !== null &&
    (network.levelled.some(({ fromId, toId }) => placeOf(fromId) !== null || placeOf(toId) !== null) ||
      network.control.some(
        (point) => point.orthometricHeightM !== null && indexOf.has(point.id) && placeOf(point.id) !== null,
      ));
  const first = stations.length + network.shared.length;
  const geoidBlocks = meetsGeoid ? ([first, first + 1, first + 2] as const) : null;
  const origin = stations.find(({ place }) => place !== null)?.place ?? null;
  const sizes = [
    ...stations.map(({ place }) => (place === null ? 1 : 3)),
    ...network.shared.map(({ covariance }) => (typeof covariance === 'number' ? 1 : 3)),
    ...(geoidBlocks === null ? [] : [1, 1, 1]),
  ];
  const observations: BlockObservation[] = [];
  const origins: EquationOrigin[] = [];
  const add = (kind: EquationOrigin['kind'], index: number, observation: BlockObservation): void => {
    if (choice.leftOut.has(kind, index)) return;
    observations.push(observation);
    origins.push({ kind, index });
  };

  function placeOf(id: string): NetworkStation['place'] {
    return stations[indexOf.get(id)!]!.place;
  }
  const blockOf = (id: string): number => indexOf.get(id)!;
  const geocentric = (covariance: Symmetric3 | CovarianceAt): Symmetric3 =>
    'local' in covariance ? turned(covariance.local, placeOf(covariance.stationId)!.frame) : covariance;

  /** The geoid's part in an ellipsoidal height made from an orthometric one, times `sign`: rows of one number each. */
  function geoidTerms(position: GeocentricPoint, rows: readonly number[], sign: number): readonly BlockTerm[] {
    if (geoidBlocks === null || origin === null) return [];
    const apart = minus(position, origin.position);
    const east = (-origin.frame.sinLon * apart.xM + origin.frame.cosLon * apart.yM) * PER_KM;
    const north = along(northOf(origin.frame), apart) * PER_KM;
    return [1, east, north].map((by, at): BlockTerm => ({
      block: geoidBlocks[at]!,
      matrix: rows.map((row) => sign * by * row),
      factor: 0,
    }));
  }

  network.vectors.forEach(({ fromId, toId, difference, covariance, shared }, index) => {
    const from = placeOf(fromId)!;
    const to = placeOf(toId)!;
    const computed = minus(to.position, from.position);
    add('vector', index, {
      terms: [
        { block: blockOf(toId), matrix: null, factor: 1 },
        { block: blockOf(fromId), matrix: null, factor: -1 },
        ...shared.map(({ error, along: way }): BlockTerm => {
          const block = sharedBlock(sharedAt.get(error)!);
          if (way === 'whole') return { block, matrix: null, factor: -1 };
          const up = upOf((way === 'up-from' ? from : to).frame);
          const sign = way === 'up-from' ? -1 : 1;
          return { block, matrix: up.map((part) => sign * part), factor: 0 };
        }),
      ],
      observed: [difference.xM - computed.xM, difference.yM - computed.yM, difference.zM - computed.zM],
      weight: inverseOf(geocentric(covariance)),
    });
  });

  network.levelled.forEach(({ fromId, toId, differenceM, sigmaM }, index) => {
    const end = (id: string, sign: number): { heightM: number; terms: readonly BlockTerm[] } => {
      const { place, heightM } = stations[indexOf.get(id)!]!;
      const block = blockOf(id);
      if (place === null) return { heightM, terms: [{ block, matrix: null, factor: sign }] };
      const up = upOf(place.frame);
      return {
        heightM: heightOf(place.position, network) - (network.geoidHeightM.get(id) ?? 0),
        terms: [{ block, matrix: up.map((part) => sign * part), factor: 0 }, ...geoidTerms(place.position, [1], -sign)],
      };
    };
    const from = end(fromId, -1);
    const to = end(toId, 1);
    add('levelled', index, {
      terms: [...to.terms, ...from.terms],
      observed: [differenceM - (to.heightM - from.heightM)],
      weight: [1 / (sigmaM * sigmaM)],
    });
  });

  network.distances.forEach(({ fromId, toId, distanceM, sigmaM, fromUpM, toUpM }, index) => {
    const apart = minus(raised(placeOf(toId)!, toUpM), raised(placeOf(fromId)!, fromUpM));
    const length = Math.hypot(apart.xM, apart.yM, apart.zM);
    const unit = [apart.xM / length, apart.yM / length, apart.zM / length];
    add('distance', index, {
      terms: [
        { block: blockOf(toId), matrix: unit, factor: 0 },
        { block: blockOf(fromId), matrix: unit.map((part) => -part), factor: 0 },
      ],
      observed: [distanceM - length],
      weight: [1 / (sigmaM * sigmaM)],
    });
  });

  for (const { point, index } of choice.control) {
    const { place, heightM } = stations[indexOf.get(point.id)!]!;
    const block = blockOf(point.id);
    if (place === null) {
      add('control', index, {
        terms: [{ block, matrix: null, factor: 1 }],
        observed: [(point.orthometricHeightM ?? 0) - heightM],
        weight: [1 / Math.max(point.heightVarianceM2 ?? 0, FIXED_VARIANCE_M2)],
      });
      continue;
    }
    const rows = controlRows(point, place.frame);
    const height = (point.orthometricHeightM ?? 0) + (network.geoidHeightM.get(point.id) ?? 0);
    const difference = point.position === null ? null : minus(point.position, place.position);
    const isRaised = point.orthometricHeightM !== null && point.held !== 'plan';
    add('control', index, {
      terms: [{ block, matrix: rows.matrix, factor: 0 }, ...(isRaised ? geoidTerms(place.position, rows.up, 1) : [])],
      observed:
        difference === null
          ? [height - heightOf(place.position, network)]
          : rows.directions.map((direction) => along(direction, difference)),
      weight: rows.weight,
    });
  }

  network.shared.forEach(({ covariance }, index) => {
    const isOne = typeof covariance === 'number';
    add('shared', index, {
      terms: [{ block: sharedBlock(index), matrix: null, factor: 1 }],
      observed: isOne ? [0] : [0, 0, 0],
      weight: isOne ? [1 / covariance] : inverseOf(geocentric(covariance)),
    });
  });
  const priors =
    geoidBlocks === null || network.geoidError === null ? [] : geoidPriors(geoidBlocks, network.geoidError);
  priors.forEach((prior, at) => {
    add('geoid', at, prior);
  });
  return { equations: { sizes, observations }, origins, stationBlock: (index) => index, sharedBlock, geoidBlocks };
}

/** What is known of the geoid's errors beforehand: each is 0 with its sigma. */
function geoidPriors(
  blocks: readonly [number, number, number],
  { constantSigmaM, tiltSigmaMPerKm }: GeoidError,
): readonly BlockObservation[] {
  return [constantSigmaM, tiltSigmaMPerKm, tiltSigmaMPerKm].map((sigma, at) => ({
    terms: [{ block: blocks[at]!, matrix: null, factor: 1 }],
    observed: [0],
    weight: [1 / Math.max(sigma * sigma, FIXED_VARIANCE_M2)],
  }));
}

/** The directions in which a control point holds, its rows of the design, what of each is up, and the weight. */
export function controlRows(
  point: ControlPoint,
  frame: LocalFrame,
): {
  readonly directions: readonly (readonly number[])[];
  readonly matrix: readonly number[];
  readonly up: readonly number[];
  readonly covariance: readonly number[];
  readonly weight: readonly number[];
} {
  const axes = [[-frame.sinLon, frame.cosLon, 0], northOf(frame), upOf(frame)];
  const local = point.covariance === null ? null : congruence3(turnInto(axes), point.covariance);
  const all = [
    [local?.xx ?? 0, local?.xy ?? 0, local?.xz ?? 0],
    [local?.xy ?? 0, local?.yy ?? 0, local?.yz ?? 0],
    [local?.xz ?? 0, local?.yz ?? 0, point.position === null ? (point.heightVarianceM2 ?? 0) : (local?.zz ?? 0)],
  ];
  const kept =
    point.position === null ? [2] : { fixed: [0, 1, 2], weighted: [0, 1, 2], plan: [0, 1], height: [2] }[point.held];
  const covariance = kept.flatMap((i) =>
    kept.map((j) => (point.held === 'fixed' ? 0 : all[i]![j]!) + (i === j ? FIXED_VARIANCE_M2 : 0)),
  );
  const directions = kept.map((axis) => axes[axis]!);
  return {
    directions,
    matrix: directions.flat(),
    up: kept.map((axis) => (axis === 2 ? 1 : 0)),
    covariance,
    weight: inverseOfRows(covariance, kept.length),
  };
}

function inverseOfRows(covariance: readonly number[], size: number): readonly number[] {
  if (size === 1) return [1 / covariance[0]!];
  if (size === 2) {
    const [xx, xy, , yy] = covariance as [number, number, number, number];
    const determinant = xx * yy - xy * xy;
    return [yy / determinant, -xy / determinant, -xy / determinant, xx / determinant];
  }
  const c = covariance;
  return inverseOf({ xx: c[0]!, xy: c[1]!, xz: c[2]!, yy: c[4]!, yz: c[5]!, zz: c[8]! });
}

function inverseOf(covariance: Symmetric3): readonly number[] {
  const w = inverse3(covariance);
  if (w === null) throw new InternalError('a covariance of an observation is singular');
  return [w.xx, w.xy, w.xz, w.xy, w.yy, w.yz, w.xz, w.yz, w.zz];
}

/** A local covariance in geocentric axes. */
function turned(local: CovarianceAt['local'], frame: LocalFrame): Symmetric3 {
  const c = geocentricCovariance(local, frame);
  return { xx: c[0]!, xy: c[1]!, xz: c[2]!, yy: c[4]!, yz: c[5]!, zz: c[8]! };
}

/** Height above the ellipsoid, metres. */
function heightOf(position: GeocentricPoint, { ellipsoid }: Network): number {
  return geocentricToGeodetic(position, ellipsoid).ellipsoidalHeightM;
}

/** The place so far above a station. */
function raised({ position, frame }: NonNullable<NetworkStation['place']>, upM: number): GeocentricPoint {
  const up = upOf(frame);
  return { xM: position.xM + upM * up[0]!, yM: position.yM + upM * up[1]!, zM: position.zM + upM * up[2]! };
}

function minus(a: GeocentricPoint, b: GeocentricPoint): GeocentricPoint {
  return { xM: a.xM - b.xM, yM: a.yM - b.yM, zM: a.zM - b.zM };
}

function along(direction: readonly number[], by: GeocentricPoint): number {
  return direction[0]! * by.xM + direction[1]! * by.yM + direction[2]! * by.zM;
}

function northOf({ sinLat, cosLat, sinLon, cosLon }: LocalFrame): readonly number[] {
  return [-sinLat * cosLon, -sinLat * sinLon, cosLat];
}

function upOf({ sinLat, cosLat, sinLon, cosLon }: LocalFrame): readonly number[] {
  return [cosLat * cosLon, cosLat * sinLon, sinLat];
}

/** Rows of three directions as the map that turns geocentric components into them. */
function turnInto(axes: readonly (readonly number[])[]): Matrix3 {
  const [e, n, u] = axes as [readonly number[], readonly number[], readonly number[]];
  return { xx: e[0]!, xy: e[1]!, xz: e[2]!, yx: n[0]!, yy: n[1]!, yz: n[2]!, zx: u[0]!, zy: u[1]!, zz: u[2]! };
}
