import { localFrameAt, localToGeocentric } from '../../core/ellipsoid/local-frame.js';
import { sumCovariance, ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import { splitCombined } from '../../core/observation/repeats/split-combined.js';
import type { HeldParts } from '../../core/observation/repeats/split-combined.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import { REPEAT_LEAST_GAIN } from '../../core/quality/decision-levels.js';
import { InternalError } from '../../records/internal-error.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { ReducedPoint, UncertaintyParts } from '../../records/points/reduced-point.js';
import type { ComparedStands } from './compare-stands.js';
import { pointVerdict } from '../reduce/occupations/point-verdict.js';
import type { createPositioner } from '../join/position-point.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/**
 * The occupations of a point as one.
 *
 * Given: them, each with a position, and their comparison; the setup; its positioner. Returned: a point whose members are those of the first
 * where all have one value or none can be given.
 */
export function joinedPoint(
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

function heldParts({ uncertainty }: ReducedPoint): HeldParts {
  if (uncertainty === null) throw new InternalError('a point without uncertainty among those to join');
  return uncertainty;
}
