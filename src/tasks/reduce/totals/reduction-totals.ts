import { createHeightEnds } from '../../../core/quality/height-ends.js';
import type { HeightEndsPart } from '../../../core/quality/height-ends.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { PointVerdict, ReducedPoint } from '../../../records/points/reduced-point.js';
import { withReasons } from '../../repeats/disputed-stands.js';
import type { DisputedStand } from '../../repeats/disputed-stands.js';
import { createBaseEffects } from './base-effects.js';
import type { BaseEffect } from './base-effects.js';
import type { SinglePoint } from '../single/reduce-single.js';
import type { ReducedOccupation } from '../reduction-working.js';

/** The largest of something, and whose it is. */
export interface Extreme {
  readonly value: number;
  readonly pointId: string;
}

/** First and last epoch of a run, milliseconds since 1970-01-01T00:00:00Z. */
export interface EpochSpan {
  readonly firstMs: number;
  readonly lastMs: number;
}

/** Points that need a look, kept for the summary. */
export interface NotedPoint {
  readonly pointId: string;
  readonly occupation: string;
  readonly verdict: PointVerdict;
  readonly reasons: readonly ProblemCode[];
}

/** Totals as plain data, for another thread. */
export interface TotalsPart {
  readonly points: Readonly<Record<PointVerdict, number>>;
  readonly epochs: { readonly used: number; readonly refused: number };
  readonly refusals: ReadonlyMap<ProblemCode, number>;
  readonly reasons: ReadonlyMap<ProblemCode, number>;
  readonly noted: readonly NotedPoint[];
  /** By `setupKey`. */
  readonly bases: ReadonlyMap<string, BaseEffect>;
  /** First and last epoch, milliseconds. */
  readonly span: EpochSpan | null;
  /** Ellipsoidal heights, of the frame of the grid. */
  readonly heights: HeightEndsPart;
  /** Farthest, frame difference, circle, vertical, tilt, slope. */
  readonly extremes: readonly (Extreme | null)[];
}

/** Sums over a run, in constant memory but for a bounded list of points to look at. */
export interface ReductionTotals {
  /** Counts the epochs and extremes of an occupation. */
  addOccupation(reduced: ReducedOccupation): void;
  /** The same for a point of one fix. */
  addSingle(single: SinglePoint): void;
  /** Counts a point that is written. `place`: what a note of it names in place of its occupation. */
  addPoint(point: ReducedPoint, place?: number): void;
  /** Counts occupations anew that are in doubt only since all were known. */
  addDisputed(disputed: readonly DisputedStand[]): void;
  /** What has been counted, to be added elsewhere with `addPart`; counting begins anew. */
  take(): TotalsPart;
  /** Adds the totals of rows that follow those counted so far. */
  addPart(part: TotalsPart): void;
  readonly points: Readonly<Record<PointVerdict, number>>;
  readonly epochs: { readonly used: number; readonly refused: number };
  readonly refusals: ReadonlyMap<ProblemCode, number>;
  readonly reasons: ReadonlyMap<ProblemCode, number>;
  readonly noted: readonly NotedPoint[];
  /** By `setupKey`. */
  readonly bases: ReadonlyMap<string, BaseEffect>;
  /** Of all occupations counted; null while none has a time. */
  span(): EpochSpan | null;
  farthest(): Extreme | null;
  /** Greatest difference of a point in the frame of the grid from its naive result; null where the frames are one. */
  frameDifference(): Extreme | null;
  worstCircle95(): Extreme | null;
  worstVertical95(): Extreme | null;
  /** Greatest measured tilt of a pole, degrees, of what was reduced; null where none was measured. */
  greatestTilt(): Extreme | null;
  /** Ends of the ellipsoidal heights of what was reduced. */
  heightEnds(): HeightEndsPart;
  /** Steepest line from a base: height difference by distance, without a sign; null where none is long enough to tell. */
  steepest(): Extreme | null;
}

const NOTED = 40;

/** Nearer than this a base and a point may stand above one another, metres. */
const SLOPE_LEAST_M = 50;

const VERDICTS: readonly PointVerdict[] = ['accepted', 'review', 'rejected'];

function larger(old: Extreme | null, value: number, pointId: string): Extreme {
  return old === null || value > old.value ? { value, pointId } : old;
}

function largerOf(old: Extreme | null, other: Extreme | null): Extreme | null {
  return other !== null && (old === null || other.value > old.value) ? other : old;
}

/** The span from the first of both to the last; null: there is none. */
export function joinedSpan(a: EpochSpan | null, b: EpochSpan | null): EpochSpan | null {
  if (a === null || b === null) return a ?? b;
  return { firstMs: Math.min(a.firstMs, b.firstMs), lastMs: Math.max(a.lastMs, b.lastMs) };
}

/** Totals of nothing. */
export function createReductionTotals(): ReductionTotals {
  const points: Record<PointVerdict, number> = { accepted: 0, review: 0, rejected: 0 };
  const epochs = { used: 0, refused: 0 };
  const refusals = new Map<ProblemCode, number>();
  const reasons = new Map<ProblemCode, number>();
  const noted: NotedPoint[] = [];
  const bases = createBaseEffects();
  let span: EpochSpan | null = null;
  let farthest: Extreme | null = null;
  let frameDifference: Extreme | null = null;
  let circle: Extreme | null = null;
  let vertical: Extreme | null = null;
  let tilt: Extreme | null = null;
  let slope: Extreme | null = null;
  let heights = createHeightEnds();
  const addSpan = (firstMs: number | null, lastMs: number | null): void => {
    if (firstMs === null || lastMs === null) return;
    if (span === null || firstMs < span.firstMs || lastMs > span.lastMs) span = joinedSpan(span, { firstMs, lastMs });
  };
  const addBaseline = ({ pointId, baseline }: ReducedPoint): void => {
    if (baseline === null) return;
    const { distanceM, heightDifferenceM } = baseline;
    farthest = larger(farthest, distanceM, pointId);
    if (distanceM >= SLOPE_LEAST_M) slope = larger(slope, Math.abs(heightDifferenceM) / distanceM, pointId);
  };
  return {
    points,
    epochs,
    refusals,
    reasons,
    noted,
    bases: bases.all,
    span: () => span,
    farthest: () => farthest,
    frameDifference: () => frameDifference,
    worstCircle95: () => circle,
    worstVertical95: () => vertical,
    greatestTilt: () => tilt,
    heightEnds: () => heights.part(),
    steepest: () => slope,
    addOccupation({ point, working }) {
      const first = working.epochs.at(0)?.fix.epochMs ?? null;
      const last = working.epochs.at(working.epochs.length - 1)?.fix.epochMs ?? null;
      addSpan(first, last);
      epochs.used += point.epochsUsed;
      epochs.refused += point.epochsRejected;
      for (const epoch of working.epochs)
        if (epoch.refusals.length > 0)
          for (const code of epoch.refusals) refusals.set(code, (refusals.get(code) ?? 0) + 1);
      const tiltDeg = working.mean === null ? null : (working.reduced.at(working.example)?.pole?.tiltDeg ?? null);
      if (tiltDeg !== null && tiltDeg > 0) tilt = larger(tilt, tiltDeg, point.pointId);
      const differenceM = working.national?.differenceM ?? null;
      if (differenceM !== null) frameDifference = larger(frameDifference, differenceM, point.pointId);
      if (working.position !== null) heights.add(point.pointId, working.position.geodetic.ellipsoidalHeightM);
      addBaseline(point);
      bases.add(point, working.base, working.shortcutErrorM);
    },
    addSingle({ point, base, shortcutErrorM }) {
      addSpan(point.firstEpochMs, point.lastEpochMs);
      epochs.used += point.epochsUsed;
      if (point.position !== null) heights.add(point.pointId, point.position.geodetic.ellipsoidalHeightM);
      addBaseline(point);
      bases.add(point, base, shortcutErrorM);
    },
    addDisputed(disputed) {
      for (const stand of disputed) {
        if (stand.wasAccepted) {
          points.accepted -= 1;
          points.review += 1;
        }
        for (const reason of stand.reasons) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
        const at = noted.findIndex(
          ({ pointId, occupation }) => pointId === stand.pointId && occupation === stand.occupation,
        );
        const known = noted[at];
        if (known !== undefined) noted[at] = withReasons(known, stand.reasons);
        else if (stand.wasAccepted && noted.length < NOTED)
          noted.push({
            pointId: stand.pointId,
            occupation: stand.occupation,
            verdict: 'review',
            reasons: stand.reasons,
          });
      }
    },
    take() {
      const part: TotalsPart = {
        points: { ...points },
        epochs: { ...epochs },
        refusals: new Map(refusals),
        reasons: new Map(reasons),
        noted: noted.splice(0),
        bases: new Map(bases.all),
        span,
        heights: heights.part(),
        extremes: [farthest, frameDifference, circle, vertical, tilt, slope],
      };
      for (const verdict of VERDICTS) points[verdict] = 0;
      epochs.used = 0;
      epochs.refused = 0;
      refusals.clear();
      reasons.clear();
      bases.clear();
      span = null;
      farthest = null;
      frameDifference = null;
      circle = null;
      vertical = null;
      tilt = null;
      slope = null;
      heights = createHeightEnds();
      return part;
    },
    addPart(part) {
      for (const verdict of VERDICTS) points[verdict] += part.points[verdict];
      epochs.used += part.epochs.used;
      epochs.refused += part.epochs.refused;
      for (const [code, count] of part.refusals) refusals.set(code, (refusals.get(code) ?? 0) + count);
      for (const [code, count] of part.reasons) reasons.set(code, (reasons.get(code) ?? 0) + count);
      pushAll(noted, part.noted.slice(0, NOTED - noted.length));
      bases.addPart(part.bases);
      span = joinedSpan(span, part.span);
      const [far, difference, round, high, leaning, steep] = part.extremes.map((extreme) => extreme ?? null);
      farthest = largerOf(farthest, far ?? null);
      frameDifference = largerOf(frameDifference, difference ?? null);
      circle = largerOf(circle, round ?? null);
      vertical = largerOf(vertical, high ?? null);
      tilt = largerOf(tilt, leaning ?? null);
      slope = largerOf(slope, steep ?? null);
      heights.addPart(part.heights);
    },
    addPoint(point, place) {
      points[point.verdict] += 1;
      for (const reason of point.reasons) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
      if (point.verdict !== 'accepted' && noted.length < NOTED)
        noted.push({
          pointId: point.pointId,
          occupation: place === undefined ? point.occupation : String(place),
          verdict: point.verdict,
          reasons: point.reasons,
        });
      if (point.summary === null) return;
      circle = larger(circle, point.summary.circle95M, point.pointId);
      vertical = larger(vertical, point.summary.vertical95M, point.pointId);
    },
  };
}
