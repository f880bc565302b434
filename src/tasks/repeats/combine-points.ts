import { localFrameAt, localToGeocentric } from '../../core/ellipsoid/local-frame.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { sumCovariance, ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import { splitCombined } from '../../core/observation/repeats/split-combined.js';
import type { HeldParts } from '../../core/observation/repeats/split-combined.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import { REPEAT_LEAST_GAIN } from '../../core/quality/decision-levels.js';
import { repeatLevel } from '../../core/quality/joint-test.js';
import { InternalError } from '../../records/internal-error.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { ReducedPoint, UncertaintyParts } from '../../records/points/reduced-point.js';
import { compareStands } from './compare-stands.js';
import type { ComparedStands, Stand } from './compare-stands.js';
import { disputeReasons, withReasons } from './disputed-stands.js';
import { pointVerdict } from '../reduce/occupations/point-verdict.js';
import { createPositioner } from '../join/position-point.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { isOfDay, listedPairs } from './repeat-pairs.js';
import type { PointRepeat, RepeatPair } from './repeat-pairs.js';
import { entryAt, present } from '../../records/present.js';
import type { RecordList } from '../../records/record-list.js';
import { recordAt } from '../reduce/packing/packed-records.js';
import { createPackedReduced } from '../reduce/packing/reduced-packing.js';

export interface CombinedPoints {
  /** One row a point where its occupations agree; all of them, marked, where they do not. */
  readonly points: readonly ReducedPoint[];
  readonly repeats: readonly PointRepeat[];
  readonly pairs: readonly RepeatPair[];
}

/**
 * Joins repeat occupations of each point by their full covariance, after one test of all of them. Points keep the order of
 * their first occupation. Occupations without a coordinate stay as they are. Where those of a point disagree nothing is joined
 * and each is marked for review, and the one that stands apart, where the others agree, is named.
 *
 * @example
 * // QP-03 of examples/quillback-pan was given wrong integers in one of its occupations (planted.csv): it is not joined.
 * const session = await readSessionFile('session.toml');
 * const { value: reduction } = await prepareReduction(session.value, ['fixes.csv']);
 * const reduced = [];
 * const reducer = createReducer(reduction.setup, { onPoint: (one) => reduced.push(one), onProblems: () => {} });
 * const { value: fixes } = await readFixesFile('fixes.csv', reduction);
 * for await (const block of fixes.blocks()) reducer.push(block.value.fixes);
 * reducer.finish();
 * const { points } = combinePoints(reduced.map(({ point }) => point), reduction.setup);
 * points.filter(({ pointId }) => pointId === 'QP-03').length; // 2
 * points.length < reduced.length; // true
 */
export function combinePoints(points: readonly ReducedPoint[], setup: ReductionSetup): CombinedPoints {
  const { points: combined, repeats, pairs } = combineHeld(points, setup, true);
  return { points: [...combined], repeats, pairs: present(pairs, 'the pairs that were asked for') };
}

/** The same of a list that may make its points anew; pairs, null unless asked for, each hold two points. */
export function combineHeld(
  points: RecordList<ReducedPoint>,
  setup: ReductionSetup,
  isPaired: boolean,
): Omit<CombinedPoints, 'points' | 'pairs'> & {
  readonly points: RecordList<ReducedPoint>;
  readonly pairs: readonly RepeatPair[] | null;
} {
  const positioner = createPositioner(setup);
  const groups = groupsOf(points);
  const repeated = groups.filter(({ usable }) => usable > 1).length;
  const level = repeatLevel(repeated);
  const combined = createPackedReduced();
  const repeats: PointRepeat[] = [];
  const pairs: RepeatPair[] | null = isPaired ? [] : null;
  for (const { rows } of groups) {
    const group = rows.map((row) => recordAt(points, row));
    const usable = usableOf(group);
    if (usable.length < 2) {
      for (const point of group) combined.push(point);
      continue;
    }
    const compared = compareStands(usable.map(standOf), setup, level);
    const { test } = compared;
    repeats.push({
      pointId: entryAt(usable, 0).pointId,
      occupations: usable.map(({ occupation }) => occupation),
      test,
      longestM: compared.longestM,
      contrasts: isOfDay(repeats.length, repeated) ? compared.contrasts() : [],
    });
    if (pairs !== null) pushAll(pairs, listedPairs(usable, compared));
    if (!test.disagrees) {
      combined.push(joined(usable, compared, setup, positioner));
      for (const point of group) if (point.position === null) combined.push(point);
      continue;
    }
    for (const point of group)
      combined.push(
        point.position === null ? point : withReasons(point, disputeReasons(compared, usable.indexOf(point))),
      );
  }
  return { points: combined, repeats, pairs };
}

/** The rows of each point, in the order of its first, and how many of them have a coordinate. */
function groupsOf(
  points: RecordList<ReducedPoint>,
): readonly { readonly rows: readonly number[]; readonly usable: number }[] {
  const groups = new Map<string, { readonly rows: number[]; usable: number }>();
  let row = 0;
  for (const { pointId, position } of points) {
    let group = groups.get(pointId);
    if (group === undefined) groups.set(pointId, (group = { rows: [], usable: 0 }));
    group.rows.push(row);
    if (position !== null) group.usable += 1;
    row += 1;
  }
  return [...groups.values()];
}

function usableOf(group: readonly ReducedPoint[]): readonly ReducedPoint[] {
  return group.filter((point) => point.position !== null);
}

function heldParts({ uncertainty }: ReducedPoint): HeldParts {
  if (uncertainty === null) throw new InternalError('a point without uncertainty among those to join');
  return uncertainty;
}

/** What the comparison needs of a point that has a position. */
export function standOf(point: ReducedPoint): Stand {
  if (point.position === null || point.uncertainty === null)
    throw new InternalError('a point without position in a group');
  const parts = point.uncertainty;
  return {
    geodetic: point.position.geodetic,
    independent: sumCovariance(parts.noise, parts.pole),
    pole: { planM2: (parts.pole.eeM2 + parts.pole.nnM2) / 2, upM2: parts.pole.uuM2 },
    correlated: sumCovariance(parts.correlated, parts.age),
    baseline: parts.baseline,
    base: parts.base,
    bend: parts.bend,
    setupKey: point.setupKey,
    baselineM: point.baseline?.distanceM ?? null,
    startMs: point.firstEpochMs,
    endMs: point.lastEpochMs,
    poleLengthM: point.poleLengthM,
  };
}

function joined(
  points: readonly ReducedPoint[],
  compared: ComparedStands,
  setup: ReductionSetup,
  positioner: ReturnType<typeof createPositioner>,
): ReducedPoint {
  const { estimates, origin, times } = compared;
  const first = points[0];
  const geodetic = first?.position?.geodetic;
  if (first === undefined || geodetic === undefined) throw new InternalError('nothing to combine');
  const result = compared.joined();
  const shift = localToGeocentric(localFrameAt(geodetic.latitudeDeg, geodetic.longitudeDeg), result.position);
  const { position } = positioner({ xM: origin.xM + shift.xM, yM: origin.yM + shift.yM, zM: origin.zM + shift.zM });
  if (position === null) throw new InternalError('a combined point left the grid that its occupations are in');
  const geoidVarianceM2 = first.uncertainty?.geoidVarianceM2 ?? null;
  const uncertainty = {
    ...splitCombined(estimates, points.map(heldParts), times, result.weights),
    total: result.covariance,
    geoidVarianceM2,
  };
  const summary = positionalUncertainty(result.covariance, geoidVarianceM2);
  const kept = points
    .flatMap((point) => point.reasons)
    .filter((code) => code !== 'point-horizontal-95' && code !== 'point-vertical-95');
  const reasons: ProblemCode[] = [...new Set(kept)];
  const { horizontalM, verticalM } = setup.tolerance;
  if (compared.isTooSoon) {
    const needs = (limitM: number | null, of: (own: NonNullable<ReducedPoint['summary']>) => number): boolean =>
      limitM !== null &&
      of(summary) <= limitM &&
      points.every((point) => point.summary !== null && of(point.summary) > limitM);
    const isNeeded =
      needs(horizontalM, ({ circle95M }) => circle95M) || needs(verticalM, ({ vertical95M }) => vertical95M);
    reasons.push('point-repeat-too-soon');
    if (isNeeded || !isGain(uncertainty, points)) reasons.push('point-repeat-not-independent');
  }
  if (horizontalM !== null && summary.circle95M > horizontalM) reasons.push('point-horizontal-95');
  if (verticalM !== null && summary.vertical95M > verticalM) reasons.push('point-vertical-95');
  const bases = [...new Set(points.map((point) => point.baseId))];
  const setups = new Set(points.map((point) => point.setupKey));
  const oneBase =
    setups.size === 1 ? setup.bases.find(({ identity }) => identity.setupKey === first.setupKey) : undefined;
  return {
    ...first,
    occupation: points.map((point) => point.occupation).join('+'),
    baseId: bases.filter((id) => id !== null).join('+') || null,
    setupKey: setups.size === 1 ? first.setupKey : null,
    baseline: oneBase === undefined ? null : baselineOf(position.geodetic, oneBase, setup),
    firstEpochMs: earliest(points),
    lastEpochMs: latest(points),
    epochsUsed: points.reduce((sum, point) => sum + point.epochsUsed, 0),
    epochsRejected: points.reduce((sum, point) => sum + point.epochsRejected, 0),
    effectiveEpochs: null,
    position,
    uncertainty,
    summary,
    verdict: pointVerdict(reasons),
    reasons,
  };
}

/** Whether joining made plan or height better than the best of the occupations, the base's part left aside. */
function isGain(parts: Omit<UncertaintyParts, 'total'>, points: readonly ReducedPoint[]): boolean {
  const own = ({ noise, correlated, baseline, age, pole }: Omit<UncertaintyParts, 'total'>): LocalCovariance =>
    [noise, correlated, baseline, age, pole].reduce(sumCovariance, ZERO_COVARIANCE);
  const singles = points.flatMap(({ uncertainty }) => (uncertainty === null ? [] : [own(uncertainty)]));
  const left = own(parts);
  const least = (of: (covariance: LocalCovariance) => number): number =>
    singles.reduce((most, single) => Math.min(most, of(single)), Infinity);
  const isBetter = (of: (covariance: LocalCovariance) => number): boolean =>
    Math.sqrt(of(left)) < (1 - REPEAT_LEAST_GAIN) * Math.sqrt(least(of));
  return isBetter(({ eeM2, nnM2 }) => eeM2 + nnM2) || isBetter(({ uuM2 }) => uuM2);
}

function baselineOf(
  to: { readonly latitudeDeg: number; readonly longitudeDeg: number; readonly ellipsoidalHeightM: number },
  base: ReductionSetup['bases'][number],
  setup: ReductionSetup,
): ReducedPoint['baseline'] {
  const from = base.origin.geodetic;
  const line = setup.geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
  return {
    distanceM: line.distanceM,
    azimuthDeg: line.azimuthDeg,
    heightDifferenceM: to.ellipsoidalHeightM - from.ellipsoidalHeightM,
  };
}

function earliest(points: readonly ReducedPoint[]): number | null {
  return points.reduce<number | null>(
    (found, { firstEpochMs: ms }) => (ms === null || (found !== null && found <= ms) ? found : ms),
    null,
  );
}

function latest(points: readonly ReducedPoint[]): number | null {
  return points.reduce<number | null>(
    (found, { lastEpochMs: ms }) => (ms === null || (found !== null && found >= ms) ? found : ms),
    null,
  );
}
