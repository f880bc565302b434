import { geocentricToLocal, localFrameAt, localToGeocentric } from '../core/geodesy/local-frame.js';
import type { LocalFrame } from '../core/geodesy/local-frame.js';
import { geodeticToGeocentric } from '../core/geodesy/geocentric.js';
import { baseCovariance } from '../core/observation/base-covariance.js';
import { combineOccupations } from '../core/observation/combine-occupations.js';
import { lessCovariance, sumCovariance } from '../core/observation/local-covariance.js';
import type { CorrelationTimes, OccupationEstimate } from '../core/observation/occupation-estimate.js';
import { splitCombined } from '../core/observation/split-combined.js';
import type { HeldParts } from '../core/observation/split-combined.js';
import { positionalUncertainty } from '../core/observation/positional-uncertainty.js';
import { repeatTest } from '../core/observation/repeat-test.js';
import type { RepeatTest } from '../core/observation/repeat-test.js';
import { InternalError } from '../records/internal-error.js';
import type { GeocentricPoint } from '../records/point.js';
import type { ProblemCode } from '../records/problem-codes.js';
import type { ReducedPoint, UncertaintyParts } from '../records/reduced-point.js';
import { pointVerdict } from './point-verdict.js';
import { createPositioner } from './position-point.js';
import type { ReductionSetup } from './reduction-setup.js';

/** A pair of occupations and how they compare. */
export interface RepeatPair {
  readonly first: ReducedPoint;
  readonly second: ReducedPoint;
  readonly test: RepeatTest;
}

export interface CombinedPoints {
  /** One row a point where its occupations agree; all of them, marked, where they do not. */
  readonly points: readonly ReducedPoint[];
  readonly pairs: readonly RepeatPair[];
}

/**
 * Joins repeat occupations of each point by their full covariance, after the repeat test. Points
 * keep the order of their first occupation. Occupations without a coordinate stay as they are.
 * Where any two occupations of a point disagree nothing is joined and each is marked for review:
 * which of them is wrong, two occupations cannot say.
 */
export function combinePoints(points: readonly ReducedPoint[], setup: ReductionSetup): CombinedPoints {
  const positioner = createPositioner(setup);
  const groups = new Map<string, ReducedPoint[]>();
  for (const point of points) {
    const group = groups.get(point.pointId);
    if (group === undefined) groups.set(point.pointId, [point]);
    else group.push(point);
  }
  const combined: ReducedPoint[] = [];
  const pairs: RepeatPair[] = [];
  for (const group of groups.values()) {
    const usable = group.filter((point) => point.position !== null);
    if (usable.length < 2) {
      for (const point of group) combined.push(point);
      continue;
    }
    const times = correlationTimes(usable, setup);
    const { estimates, origin } = estimatesOf(usable, setup);
    const tests = pairsOf(usable, estimates, times);
    for (const test of tests) pairs.push(test);
    const added: ProblemCode[] = [];
    if (tests.some(({ test }) => test.disagrees)) added.push('point-repeat-disagrees');
    if (tests.some(({ test }) => test.tooSoon === true)) added.push('point-repeat-too-soon');
    if (new Set(usable.map((point) => point.poleLengthM)).size > 1 && added.includes('point-repeat-disagrees')) added.push('point-pole-length-changed');
    if (added.includes('point-repeat-disagrees')) {
      for (const point of group) combined.push(point.position === null ? point : withReasons(point, added));
      continue;
    }
    combined.push(joined(usable, estimates, times, origin, added, setup, positioner));
    combined.push(...group.filter((point) => point.position === null));
  }
  return { points: combined, pairs };
}

function heldParts({ uncertainty }: ReducedPoint): HeldParts {
  if (uncertainty === null) throw new InternalError('a point without uncertainty among those to join');
  return uncertainty;
}

function withReasons(point: ReducedPoint, added: readonly ProblemCode[]): ReducedPoint {
  const reasons = [...point.reasons, ...added.filter((code) => !point.reasons.includes(code))];
  return { ...point, reasons, verdict: pointVerdict(reasons) };
}

/** Correlation times at the longest baseline of the group: the safe side for shared slow errors. */
function correlationTimes(points: readonly ReducedPoint[], setup: ReductionSetup): CorrelationTimes {
  return setup.precision.at(points.reduce((most, point) => Math.max(most, point.baseline?.distanceM ?? 0), 0), null);
}

function estimatesOf(points: readonly ReducedPoint[], setup: ReductionSetup): { readonly estimates: readonly OccupationEstimate[]; readonly origin: GeocentricPoint } {
  const first = points[0]?.position?.geodetic;
  if (first === undefined) throw new InternalError('a group of points without a position');
  const origin = geodeticToGeocentric(first, setup.ellipsoid);
  const frame = localFrameAt(first.latitudeDeg, first.longitudeDeg);
  const estimates = points.map((point): OccupationEstimate => {
    if (point.position === null || point.uncertainty === null) throw new InternalError('a point without position in a group');
    const at = geodeticToGeocentric(point.position.geodetic, setup.ellipsoid);
    const parts = point.uncertainty;
    return {
      position: geocentricToLocal(frame, { xM: at.xM - origin.xM, yM: at.yM - origin.yM, zM: at.zM - origin.zM }),
      independent: sumCovariance(parts.noise, parts.pole),
      correlated: sumCovariance(parts.correlated, parts.age),
      baseline: parts.baseline,
      ...baseParts(point, parts, frame, setup),
      baselineM: point.baseline?.distanceM ?? null,
      startMs: point.firstEpochMs,
      endMs: point.lastEpochMs,
    };
  });
  return { estimates, origin };
}

/** The base's error, taken apart into that of its mark and that of its set-up, which bent its vectors too. */
function baseParts(point: ReducedPoint, { base: whole, bend }: UncertaintyParts, frame: LocalFrame, setup: ReductionSetup): Pick<OccupationEstimate, 'mark' | 'setup' | 'markKey' | 'setupKey'> {
  const { setupKey } = point;
  const base = setup.bases.find(({ identity }) => identity.setupKey === setupKey);
  if (base === undefined) return { mark: whole, setup: bend, markKey: setupKey, setupKey };
  const { mark, markKey } = base.identity;
  const markCovariance = baseCovariance(mark.horizontalM, mark.verticalM, base.frame, frame);
  return { mark: markCovariance, setup: sumCovariance(lessCovariance(whole, markCovariance), bend), markKey, setupKey };
}

function pairsOf(points: readonly ReducedPoint[], estimates: readonly OccupationEstimate[], times: CorrelationTimes): readonly RepeatPair[] {
  const pairs: RepeatPair[] = [];
  for (const [j, second] of points.entries()) {
    for (const [i, first] of points.slice(0, j).entries()) {
      const a = estimates[i];
      const b = estimates[j];
      if (a !== undefined && b !== undefined) pairs.push({ first, second, test: repeatTest(a, b, times) });
    }
  }
  return pairs;
}

function joined(
  points: readonly ReducedPoint[],
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
  origin: GeocentricPoint,
  added: readonly ProblemCode[],
  setup: ReductionSetup,
  positioner: ReturnType<typeof createPositioner>,
): ReducedPoint {
  const first = points[0];
  const last = points[points.length - 1];
  const geodetic = first?.position?.geodetic;
  if (first === undefined || last === undefined || geodetic === undefined) throw new InternalError('nothing to combine');
  const result = combineOccupations(estimates, times);
  const shift = localToGeocentric(localFrameAt(geodetic.latitudeDeg, geodetic.longitudeDeg), result.position);
  const { position } = positioner({ xM: origin.xM + shift.xM, yM: origin.yM + shift.yM, zM: origin.zM + shift.zM });
  if (position === null) throw new InternalError('a combined point left the grid that its occupations are in');
  const geoidVarianceM2 = first.uncertainty?.geoidVarianceM2 ?? null;
  const summary = positionalUncertainty(result.covariance, geoidVarianceM2);
  const kept = points.flatMap((point) => point.reasons).filter((code) => code !== 'point-horizontal-95' && code !== 'point-vertical-95');
  const reasons = [...new Set([...kept, ...added])];
  const { horizontalM, verticalM } = setup.tolerance;
  if (horizontalM !== null && summary.circle95M > horizontalM) reasons.push('point-horizontal-95');
  if (verticalM !== null && summary.vertical95M > verticalM) reasons.push('point-vertical-95');
  const bases = [...new Set(points.map((point) => point.baseId))];
  const setups = new Set(points.map((point) => point.setupKey));
  const oneBase = setups.size === 1 ? setup.bases.find(({ identity }) => identity.setupKey === first.setupKey) : undefined;
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
    uncertainty: { ...splitCombined(estimates, points.map(heldParts), times, result.weights), total: result.covariance, geoidVarianceM2 },
    summary,
    verdict: pointVerdict(reasons),
    reasons,
  };
}

function baselineOf(to: { readonly latitudeDeg: number; readonly longitudeDeg: number; readonly ellipsoidalHeightM: number }, base: ReductionSetup['bases'][number], setup: ReductionSetup): ReducedPoint['baseline'] {
  const from = base.origin.geodetic;
  const line = setup.geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
  return { distanceM: line.distanceM, azimuthDeg: line.azimuthDeg, heightDifferenceM: to.ellipsoidalHeightM - from.ellipsoidalHeightM };
}

function earliest(points: readonly ReducedPoint[]): number | null {
  return points.reduce<number | null>((found, { firstEpochMs: ms }) => (ms === null || (found !== null && found <= ms) ? found : ms), null);
}

function latest(points: readonly ReducedPoint[]): number | null {
  return points.reduce<number | null>((found, { lastEpochMs: ms }) => (ms === null || (found !== null && found >= ms) ? found : ms), null);
}
