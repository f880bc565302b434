import type { AdjustedNetwork } from '../../core/network/adjust-network.js';
import { crossCofactor, meanPath, pathOf } from '../../core/network/factor-paths.js';
import type { BlockPath } from '../../core/network/factor-paths.js';
import { frameBetween, localCovarianceOf, relativeCovariance } from '../../core/network/relative-accuracy.js';
import { adjustedHeight, adjustedPosition } from '../../core/network/solve-network.js';
import { stationReliability } from '../../core/network/station-reliability.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import type { GeocentricPoint, LocalCovariance } from '../../records/points/point.js';
import type { ProblemCode } from '../../records/problem-codes.js';
import type { NetworkPair, NetworkPoint } from '../../records/reports/network-report.js';
import type { NetworkSystems } from './network-input.js';
import { geoidVarianceM2, placedIn } from './placed-station.js';

/** Covariances between stations of an adjusted network. */
export interface NetworkRelations {
  /** Of one station in local axes, m², with the variance factor; null where only its height is known. */
  readonly own: (station: number) => LocalCovariance | null;
  /** Of the vector between two places, in local axes at the middle, m²; null where one has no place. */
  readonly between: (first: number, second: number) => LocalCovariance | null;
  /** Of the coordinates of two stations, geocentric, m², row by row: 3 × 3, fewer of a station of which only the height is known. */
  readonly block: (first: number, second: number) => Float64Array;
}

/** Paths kept for stations that many others are related to; the others are made when they are asked for. */
const MOST_KEPT = 2000;

/**
 * The relations of the final solution.
 *
 * @example
 * // One place measured twice from a known one, with variances of 1 and 4 mm²: 1 / (1 + 1/4) mm² is left, by hand.
 * const cov = (mm2) => ({ xx: mm2 * 1e-6, xy: 0, xz: 0, yy: mm2 * 1e-6, yz: 0, zz: mm2 * 1e-6 });
 * const ends = { fromId: 'A', toId: 'B', shared: [] };
 * const vector = (xM, mm2) => ({ ...ends, difference: { xM, yM: 0, zM: 0 }, covariance: cov(mm2) });
 * const known = { position: { xM: 6378137, yM: 0, zM: 0 }, orthometricHeightM: null, heightVarianceM2: null };
 * const none = { levelled: [], distances: [], shared: [], geoidHeightM: new Map(), geoidError: null };
 * const control = [{ id: 'A', ...known, held: 'fixed', covariance: null }];
 * const network = { ellipsoid: GRS80, vectors: [vector(100, 1), vector(100.005, 4)], control, ...none };
 * const adjusted = adjustNetwork(network, { datum: 'control', excludesOutliers: false, estimatesVariance: false }).value;
 * 1e6 * networkRelations(adjusted).own(1).uuM2; // 0.8000
 */
export function networkRelations({ network, final, scale, datum, control }: AdjustedNetwork): NetworkRelations {
  const { solved, cofactors } = final;
  const { list, solution } = solved;
  const kept = new Map<number, BlockPath>();
  const path = (station: number): BlockPath => {
    const known = kept.get(station);
    if (known !== undefined) return known;
    const made = pathOf(solution.factor, station);
    if (kept.size < MOST_KEPT) kept.set(station, made);
    return made;
  };
  const plain = cofactors.between;
  const held =
    // No control is met but what holds the datum.
    datum === 'inner' ? (control?.points ?? []).map(({ index }) => list.indexOf.get(network.control[index]!.id)!) : [];
  const means = new Map<number, BlockPath>();
  const meanOf = (part: number): BlockPath => {
    let found = means.get(part);
    if (found === undefined) {
      const own = held.filter(
        (station) => list.stations[station]!.part === part && list.stations[station]!.place !== null,
      );
      means.set(part, (found = meanPath(own.map(path))));
    }
    return found;
  };
  const block = (first: number, second: number): Float64Array => {
    const q = plain(first, second);
    const [a, b] = [list.stations[first]!, list.stations[second]!];
    if (held.length > 0 && a.place !== null && b.place !== null && a.part === b.part && a.part !== null) {
      // S Q Sᵀ with S taking the mean of the control off every place.
      const mean = meanOf(a.part);
      const [fromFirst, fromSecond, own] = [
        crossCofactor(solution.factor, path(first), mean),
        crossCofactor(solution.factor, mean, path(second)),
        crossCofactor(solution.factor, mean, mean),
      ];
      for (let at = 0; at < q.length; at += 1) q[at]! += own[at]! - fromFirst[at]! - fromSecond[at]!;
    }
    for (let at = 0; at < q.length; at += 1) q[at]! *= scale;
    return q;
  };
  return {
    block,
    own(station) {
      const { place } = list.stations[station]!;
      return place === null ? null : localCovarianceOf(block(station, station), place.frame);
    },
    between(first, second) {
      const [a, b] = [adjustedPosition(solved, first), adjustedPosition(solved, second)];
      if (a === null || b === null) return null;
      const relative = relativeCovariance(block(first, first), block(second, second), block(first, second));
      return localCovarianceOf(relative, frameBetween(a, b, network.ellipsoid));
    },
  };
}

/**
 * The stations after the adjustment, in the order of their names.
 *
 * @example
 * // One place measured twice from a known one, with variances of 1 and 4 mm²: by hand, 1.96 times the root of 0.8 mm² in height.
 * const cov = (mm2) => ({ xx: mm2 * 1e-6, xy: 0, xz: 0, yy: mm2 * 1e-6, yz: 0, zz: mm2 * 1e-6 });
 * const ends = { fromId: 'A', toId: 'B', shared: [] };
 * const vector = (xM, mm2) => ({ ...ends, difference: { xM, yM: 0, zM: 0 }, covariance: cov(mm2) });
 * const known = { position: { xM: 6378137, yM: 0, zM: 0 }, orthometricHeightM: null, heightVarianceM2: null };
 * const none = { levelled: [], distances: [], shared: [], geoidHeightM: new Map(), geoidError: null };
 * const control = [{ id: 'A', ...known, held: 'fixed', covariance: null }];
 * const network = { ellipsoid: GRS80, vectors: [vector(100, 1), vector(100.005, 4)], control, ...none };
 * const adjusted = adjustNetwork(network, { datum: 'control', excludesOutliers: false, estimatesVariance: false }).value;
 * const systems = { ellipsoid: GRS80, grid: null, geoid: null, geoidSigmaM: null };
 * const [, point] = networkPoints(adjusted, systems, networkRelations(adjusted), new Map());
 * [point.id, point.verdict, 1000 * point.summary.vertical95M]; // ['B', 'within', 1.753]
 */
export function networkPoints(
  adjusted: AdjustedNetwork,
  systems: NetworkSystems,
  relations: NetworkRelations,
  suspects: ReadonlyMap<string, ProblemCode>,
): readonly NetworkPoint[] {
  const { solved } = adjusted.final;
  const { stations } = solved.list;
  const reliability = stationReliability(adjusted.final);
  const control = adjusted.held.map((index) => solved.list.indexOf.get(adjusted.network.control[index]!.id)!);
  const places = stations.map((_, index) => adjustedPosition(solved, index));
  return stations.map(({ id }, index): NetworkPoint => {
    const position = places[index]!;
    const own = reliability[index]!;
    const reasons: ProblemCode[] = [];
    const suspect = suspects.get(id);
    if (suspect !== undefined) reasons.push(suspect);
    if (!own.isChecked) reasons.push('network-unchecked');
    const common = {
      id,
      position,
      redundancy: own.redundancy,
      largestW: own.largestW,
      minimalDetectableBiasM: own.biasM,
      externalReliabilityM: own.externalM,
      isChecked: own.isChecked,
      verdict: suspect !== undefined ? ('no' as const) : own.isChecked ? ('within' as const) : ('review' as const),
      reasons,
    };
    if (position === null)
      return {
        ...common,
        geodetic: null,
        gridFirst: null,
        gridSecond: null,
        factors: null,
        geoidHeightM: null,
        orthometricHeightM: adjustedHeight(solved, index),
        covariance: null,
        sigmaUpM: Math.sqrt(relations.block(index, index)[0]!),
        summary: null,
        nearestControl: null,
        relativeCircle95M: null,
        relativeVertical95M: null,
      };
    const covariance = relations.own(index)!;
    const nearest = nearestOf(position, index, control, places);
    const relative = nearest === null ? null : relations.between(index, nearest);
    const placed = placedIn(position, systems);
    return {
      ...common,
      ...placed,
      covariance,
      sigmaUpM: Math.sqrt(Math.max(0, covariance.uuM2)),
      summary: positionalUncertainty(covariance, geoidVarianceM2(placed.orthometricHeightM, systems)),
      nearestControl: nearest === null ? null : stations[nearest]!.id,
      ...relativeFigures(relative),
    };
  });
}

function relativeFigures(
  relative: LocalCovariance | null,
): Pick<NetworkPoint, 'relativeCircle95M' | 'relativeVertical95M'> {
  if (relative === null) return { relativeCircle95M: null, relativeVertical95M: null };
  const { circle95M, vertical95M } = positionalUncertainty(relative, null);
  return { relativeCircle95M: circle95M, relativeVertical95M: vertical95M };
}

/** The accuracy of one station relative to another; null where one has no place. */
export function networkPair(
  adjusted: AdjustedNetwork,
  relations: NetworkRelations,
  first: number,
  second: number,
): NetworkPair | null {
  const { solved } = adjusted.final;
  const relative = relations.between(first, second);
  const [a, b] = [adjustedPosition(solved, first), adjustedPosition(solved, second)];
  if (relative === null || a === null || b === null) return null;
  return {
    fromId: solved.list.stations[first]!.id,
    toId: solved.list.stations[second]!.id,
    distanceM: Math.hypot(b.xM - a.xM, b.yM - a.yM, b.zM - a.zM),
    summary: positionalUncertainty(relative, null),
  };
}

function nearestOf(
  from: GeocentricPoint,
  own: number,
  control: readonly number[],
  places: readonly (GeocentricPoint | null)[],
): number | null {
  let nearest: number | null = null;
  let least = Infinity;
  for (const station of control) {
    const place = places[station] ?? null;
    if (place === null || station === own) continue;
    const apart = (place.xM - from.xM) ** 2 + (place.yM - from.yM) ** 2 + (place.zM - from.zM) ** 2;
    if (apart < least) {
      least = apart;
      nearest = station;
    }
  }
  return nearest;
}
