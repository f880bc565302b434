import type { AdjustedNetwork } from '../../core/network/adjust-network.js';
import { crossCofactor, meanPath, pathOf } from '../../core/network/blocks/factor-paths.js';
import type { BlockPath } from '../../core/network/blocks/factor-paths.js';
import { frameBetween, localCovarianceOf, relativeCovariance } from '../../core/network/equations/relative-accuracy.js';
import { adjustedHeight, adjustedPosition } from '../../core/network/solve-network.js';
import { stationPull } from '../../core/network/evidence/control-pull.js';
import { stationReliability } from '../../core/network/evidence/station-reliability.js';
import { VERTICAL_95 } from '../../core/observation/uncertainty/confidence-factors.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import type { GeocentricPoint, LocalCovariance } from '../../records/points/point.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { NetworkPair, NetworkPoint } from '../../records/reports/network-report.js';
import type { NetworkSystems } from './input/network-input.js';
import { geoidVarianceM2, placedIn } from './input/placed-station.js';

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

const nine = (): Float64Array => new Float64Array(9);

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
export function networkRelations(adjusted: AdjustedNetwork): NetworkRelations {
  const { network, final, scale } = adjusted;
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
  const means = meansOf(adjusted, path);
  const sizeOf = (station: number): number => solution.equations.sizes[station]!;
  const fill = (first: number, second: number, q: Float64Array): void => {
    plain(first, second, q);
    const size = sizeOf(first) * sizeOf(second);
    const [a, b] = [list.stations[first]!, list.stations[second]!];
    if (means !== null && a.place !== null && b.place !== null && a.part === b.part && a.part !== null) {
      // S Q Sᵀ with S taking the mean of the control off every place.
      const mean = means(a.part);
      const [fromFirst, fromSecond, shift] = [
        crossCofactor(solution.factor, path(first), mean),
        crossCofactor(solution.factor, mean, path(second)),
        crossCofactor(solution.factor, mean, mean),
      ];
      for (let at = 0; at < size; at += 1) q[at]! += shift[at]! - fromFirst[at]! - fromSecond[at]!;
    }
    for (let at = 0; at < size; at += 1) q[at]! *= scale;
  };
  const block = (first: number, second: number): Float64Array => {
    const q = new Float64Array(sizeOf(first) * sizeOf(second));
    fill(first, second, q);
    return q;
  };
  // Room for what is asked for of every station.
  const [one, other, cross, relative] = [nine(), nine(), nine(), nine()];
  return {
    block,
    own(station) {
      const { place } = list.stations[station]!;
      if (place === null) return null;
      fill(station, station, one);
      return localCovarianceOf(one, place.frame);
    },
    between(first, second) {
      const [a, b] = [adjustedPosition(solved, first), adjustedPosition(solved, second)];
      if (a === null || b === null) return null;
      fill(first, first, one);
      fill(second, second, other);
      fill(first, second, cross);
      relativeCovariance(one, other, cross, relative);
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
  suspects: ReadonlyMap<string, readonly ProblemCode[]>,
): readonly NetworkPoint[] {
  const { solved } = adjusted.final;
  const { stations } = solved.list;
  const reliability = stationReliability(adjusted.final);
  const control = adjusted.held.map((index) => solved.list.indexOf.get(adjusted.network.control[index]!.id)!);
  const places = stations.map((_, index) => adjustedPosition(solved, index));
  return stations.map(({ id }, index): NetworkPoint => {
    const position = places[index]!;
    const own = reliability[index]!;
    if (position === null) {
      const sigmaUpM = Math.sqrt(relations.block(index, index)[0]!);
      return {
        ...WITHOUT_PLACE,
        id,
        redundancy: own.redundancy,
        largestW: own.largestW,
        minimalDetectableBiasM: own.biasM,
        externalReliabilityM: own.externalM,
        isChecked: own.isChecked,
        ...judged(suspects.get(id), own.isChecked, isPulled(adjusted, index, heightFigures(sigmaUpM))),
        orthometricHeightM: adjustedHeight(solved, index),
        sigmaUpM,
      };
    }
    const covariance = relations.own(index)!;
    const nearest = nearestOf(position, index, control, places);
    const figures = nearest === null ? null : figuresOf(relations.between(index, nearest));
    const { geodetic, gridFirst, gridSecond, factors, geoidHeightM, orthometricHeightM } = placedIn(position, systems);
    const summary = positionalUncertainty(covariance, geoidVarianceM2(orthometricHeightM, systems));
    const { verdict, reasons } = judged(suspects.get(id), own.isChecked, isPulled(adjusted, index, summary));
    // Each member by itself: records of many members put together of others are slow where fifty thousand are made.
    return {
      id,
      position,
      geodetic,
      gridFirst,
      gridSecond,
      factors,
      geoidHeightM,
      orthometricHeightM,
      covariance,
      sigmaUpM: Math.sqrt(Math.max(0, covariance.uuM2)),
      summary,
      redundancy: own.redundancy,
      largestW: own.largestW,
      minimalDetectableBiasM: own.biasM,
      externalReliabilityM: own.externalM,
      nearestControl: nearest === null ? null : stations[nearest]!.id,
      relativeCircle95M: figures === null ? null : figures.circle95M,
      relativeVertical95M: figures === null ? null : figures.vertical95M,
      isChecked: own.isChecked,
      verdict,
      reasons,
    };
  });
}

function figuresOf(relative: LocalCovariance | null): ReturnType<typeof positionalUncertainty> | null {
  return relative === null ? null : positionalUncertainty(relative, null);
}

/** Of an inner datum the path of the mean of the control of each part; null for another datum. */
function meansOf(
  { network, final, datum, control }: AdjustedNetwork,
  path: (station: number) => BlockPath,
): ((part: number) => BlockPath) | null {
  const { list } = final.solved;
  const held =
    // No control is met but what holds the datum.
    datum === 'inner' ? (control?.points ?? []).map(({ index }) => list.indexOf.get(network.control[index]!.id)!) : [];
  if (held.length === 0) return null;
  const means = new Map<number, BlockPath>();
  return (part) => {
    let found = means.get(part);
    if (found === undefined) {
      const own = held.filter(
        (station) => list.stations[station]!.part === part && list.stations[station]!.place !== null,
      );
      means.set(part, (found = meanPath(own.map(path))));
    }
    return found;
  };
}

/** The 95 % figures that a station may be moved by, metres; null in plan where only its height is known. */
interface Figures {
  readonly circle95M: number | null;
  readonly vertical95M: number;
}

function heightFigures(sigmaUpM: number): Figures {
  return { circle95M: null, vertical95M: VERTICAL_95 * sigmaUpM };
}

/** Whether control that fails moves a station farther than its 95 % figures, or nothing is left to say how far. */
function isPulled({ pull, final }: AdjustedNetwork, station: number, { circle95M, vertical95M }: Figures): boolean {
  if (pull === null) return false;
  if (pull.without === null) return true;
  const { planM, upM } = stationPull(final.solved, pull.without, station);
  const isStillInPlan = planM === null || circle95M === null || planM <= circle95M;
  // Written so that a height that could not be compared counts as moved.
  return !(isStillInPlan && Math.abs(upM) <= vertical95M);
}

/** The verdict of a station, and why. */
function judged(
  suspect: readonly ProblemCode[] | undefined,
  isChecked: boolean,
  pulled: boolean,
): Pick<NetworkPoint, 'verdict' | 'reasons'> {
  const reasons: readonly ProblemCode[] = [
    ...(suspect === undefined ? [] : suspect),
    ...(pulled && suspect === undefined ? (['network-control-pulls'] as const) : []),
    ...(isChecked ? [] : (['network-unchecked'] as const)),
  ];
  return { verdict: suspect !== undefined ? 'no' : reasons.length > 0 ? 'review' : 'within', reasons };
}

/** What a station of which only the height was observed has none of. */
const WITHOUT_PLACE = {
  position: null,
  geodetic: null,
  gridFirst: null,
  gridSecond: null,
  factors: null,
  geoidHeightM: null,
  covariance: null,
  summary: null,
  nearestControl: null,
  relativeCircle95M: null,
  relativeVertical95M: null,
} as const;

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
