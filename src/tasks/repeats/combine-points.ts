import { pushAll } from '../../core/numeric/push-all.js';
import { sumCovariance } from '../../core/observation/uncertainty/local-covariance.js';
import { repeatLevel } from '../../core/quality/joint-test.js';
import { InternalError } from '../../records/internal-error.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { compareStands } from './compare-stands.js';
import type { Stand } from './compare-stands.js';
import { createContrastStore, NO_CONTRASTS } from './contrast-store.js';
import { disputeReasons, withReasons } from './disputed-stands.js';
import { joinedPoint } from './joined-point.js';
import { createPositioner } from '../join/position-point.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { isOfDay, listedPairs } from './repeat-pairs.js';
import type { PointRepeat, RepeatPair } from './repeat-pairs.js';
import { entryAt, present } from '../../records/present.js';
import type { RecordList } from '../../records/record-list.js';
import { recordAt } from '../reduce/packing/packed-records.js';

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
  const made = combineHeld(points, setup, true);
  const combined: ReducedPoint[] = [];
  for (let step = made.next(); ; step = made.next()) {
    if (step.done === true)
      return {
        points: combined,
        repeats: step.value.repeats,
        pairs: present(step.value.pairs, 'the pairs that were asked for'),
      };
    combined.push(step.value);
  }
}

/**
 * The same of a list that may make its points anew: each point is given as soon as it is known. `isPaired`: whether pairs, which each
 * hold two points, are asked for; null where they are not. Returned, once all are given: what was found.
 */
export function* combineHeld(
  points: RecordList<ReducedPoint>,
  setup: ReductionSetup,
  isPaired: boolean,
): Generator<ReducedPoint, Pick<CombinedPoints, 'repeats'> & { readonly pairs: readonly RepeatPair[] | null }> {
  const positioner = createPositioner(setup);
  const { groups, next, repeated } = groupsOf(points);
  const level = repeatLevel(repeated);
  const repeats: PointRepeat[] = [];
  const contrasts = createContrastStore();
  const pairs: RepeatPair[] | null = isPaired ? [] : null;
  for (const first of groups) {
    const group = groupOf(points, first, next);
    const usable = group.filter((point) => point.position !== null);
    if (usable.length < 2) {
      yield* group;
      continue;
    }
    const compared = compareStands(usable.map(standOf), setup, level);
    const { test } = compared;
    repeats.push({
      pointId: entryAt(usable, 0).pointId,
      occupations: usable.map(({ occupation }) => occupation),
      test,
      longestM: compared.longestM,
      contrasts: isOfDay(repeats.length, repeated) ? contrasts.keep(compared.contrasts()) : NO_CONTRASTS,
      atOnce: compared.atOnce,
    });
    if (pairs !== null) pushAll(pairs, listedPairs(usable, compared));
    if (!test.disagrees) {
      yield joinedPoint(usable, compared, setup, positioner);
      for (const point of group) if (point.position === null) yield point;
      continue;
    }
    for (const point of group)
      yield point.position === null ? point : withReasons(point, disputeReasons(compared, usable.indexOf(point)));
  }
  return { repeats, pairs };
}

/** The rows of points, one point after another. */
interface Groups {
  /** The first row of each, in their order. */
  readonly groups: Iterable<number>;
  /** By row: the next of the same point, or NONE. */
  readonly next: Int32Array;
  /** How many points have more than one row with a coordinate. */
  readonly repeated: number;
}

const NONE = -1;

function groupsOf(points: RecordList<ReducedPoint>): Groups {
  const next = new Int32Array(points.length).fill(NONE);
  const lastOf = new Map<string, number>();
  // How many rows with a coordinate the point of a row has, up to that row: more than two are as good as two.
  const usable = new Uint8Array(points.length);
  const isFirst = new Uint8Array(points.length);
  let repeated = 0;
  let row = 0;
  for (const { pointId, position } of points) {
    const before = lastOf.get(pointId);
    if (before === undefined) isFirst[row] = 1;
    else next[before] = row;
    // No row before: none with a coordinate.
    const known = before === undefined ? 0 : (usable[before] as number);
    usable[row] = Math.min(2, known + (position === null ? 0 : 1));
    if (known === 1 && usable[row] === 2) repeated += 1;
    lastOf.set(pointId, row);
    row += 1;
  }
  return { groups: marked(isFirst), next, repeated };
}

function* marked(isFirst: Uint8Array): Generator<number> {
  for (let row = 0; row < isFirst.length; row += 1) if (isFirst[row] === 1) yield row;
}

function groupOf(points: RecordList<ReducedPoint>, first: number, next: Int32Array): readonly ReducedPoint[] {
  const group: ReducedPoint[] = [];
  for (let row = first; row !== NONE; row = next[row] as number) group.push(recordAt(points, row));
  return group;
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
