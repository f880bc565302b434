import { emptyLine } from '../../../core/ellipsoid/geodesic.js';
import { shortcutErrorM } from '../../../core/observation/base-correction.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { Draft } from '../../../records/draft.js';
import type { Fix } from '../../../records/points/fix.js';
import type { Baseline, ReducedPoint } from '../../../records/points/reduced-point.js';
import type { ToleranceSettings } from '../../../records/session.js';
import { bendReason } from '../../bases/base-bend.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { poleReachM, referencePointOf } from '../../check/check-fix.js';
import { poleDoubt } from '../../check/pole-doubt.js';
import type { PositionedPoint } from '../../join/position-point.js';
import type { ReductionSetup } from '../reduction-setup.js';
import { createSingleFigures } from './single-figures.js';
import type { SingleFigures } from './single-figures.js';
import { createSinglePosition } from './single-position.js';

/** A point of one fix that nothing is said against. It stays as it is until the next is reduced. */
export interface SinglePoint {
  readonly point: ReducedPoint;
  readonly base: PreparedBase | null;
  /** What a shortcut would have cost; null where the base was not moved. Metres. */
  readonly shortcutErrorM: number | null;
}

/** Reduces one fix; null where the general way is to reduce it. */
export type SingleReducer = (fix: Fix, base: PreparedBase | null, occupation: string) => SinglePoint | null;

const NO_REASONS: readonly ProblemCode[] = Object.freeze([]);

/**
 * Reduces occupations of a single fix with a plumb pole to the accepted points that they nearly always are, in the same records
 * again and again and without their working: of a million points the records would be six kilobytes each. Whatever else comes (a
 * refusal, a doubt, a message, a shift between frames) is left to `reduceOccupation`. The formulas are the same functions; a test
 * holds both ways equal to the last bit.
 */
export function createSingleReducer(setup: ReductionSetup): SingleReducer {
  const { rover, geodesic, tolerance } = setup;
  const positionOf = createSinglePosition(setup);
  const figures = createSingleFigures(setup);
  const point = blankPoint(figures);
  const single: Draft<SinglePoint> = { point, base: null, shortcutErrorM: 0.5 };
  const line = emptyLine();
  const baseline: Draft<Baseline> = { distanceM: 0.5, azimuthDeg: 0.5, heightDifferenceM: 0.5 };

  function baselineFrom(
    { origin }: PreparedBase,
    { geodetic: to }: NonNullable<PositionedPoint['position']>,
  ): Baseline {
    const from = origin.geodetic;
    geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg, line);
    baseline.distanceM = line.distanceM;
    baseline.azimuthDeg = line.azimuthDeg;
    baseline.heightDifferenceM = to.ellipsoidalHeightM - from.ellipsoidalHeightM;
    return baseline;
  }

  return (fix, base, occupation) => {
    const place = referencePointOf(fix, rover);
    // A tilt, another frame and a separation of the geoid are of the general way.
    if (place === null || fix.tiltDeg !== null || setup.shift !== null || fix.separationM !== undefined) return null;
    const reachM = place === 'tip' ? null : poleReachM(fix, rover, place);
    if (place !== 'tip' && (reachM === null || poleDoubt(fix, rover) !== null)) return null;
    const positioned = positionOf(fix, base, reachM);
    if (positioned?.position === null || positioned === null) return null;
    const { position } = positioned;
    point.baseline = base === null ? null : baselineFrom(base, position);
    figures.reckon(fix, base, point.baseline, position, reachM);
    if (isDoubtful(figures, base, tolerance)) return null;
    const correction = base?.correction ?? null;
    single.base = base;
    single.shortcutErrorM =
      correction === null
        ? null
        : shortcutErrorM(
            correction.magnitudeM,
            baseline.distanceM,
            position.geodetic.latitudeDeg,
            positioned.gaussRadiusM,
          );
    point.pointId = fix.pointId;
    point.occupation = occupation;
    point.code = fix.code;
    point.baseId = base?.settings.id ?? fix.baseId;
    point.setupKey = base?.identity.setupKey ?? fix.baseId;
    point.poleLengthM = reachM === null ? null : (fix.poleLengthM ?? rover.poleLengthM);
    point.firstEpochMs = fix.epochMs;
    point.lastEpochMs = fix.epochMs;
    point.epochsUsed = fix.epochCount;
    point.effectiveEpochs = figures.uncertainty.effectiveEpochs;
    point.position = position;
    point.passThrough = fix.passThrough;
    point.place = fix.place;
    return single;
  };
}

/** Whether an occupation of one fix was reduced and handed on; false where the general way is to reduce it, and all are where nobody takes them. */
export function createSingleTaker(
  setup: ReductionSetup,
  onSingle: ((single: SinglePoint) => void) | undefined,
): (fix: Fix, base: PreparedBase | null, occupation: string) => boolean {
  if (onSingle === undefined) return () => false;
  const reduce = createSingleReducer(setup);
  return (fix, base, occupation) => {
    const single = reduce(fix, base, occupation);
    if (single === null) return false;
    onSingle(single);
    return true;
  };
}

/** Whether the base's bend or a tolerance raises a doubt. */
function isDoubtful(
  { uncertainty, summary }: SingleFigures,
  base: PreparedBase | null,
  tolerance: ToleranceSettings,
): boolean {
  const { horizontalM, verticalM } = tolerance;
  const isMoved = (base?.correction ?? null) !== null;
  return (
    (isMoved && bendReason(uncertainty, tolerance) !== null) ||
    (horizontalM !== null && summary.circle95M > horizontalM) ||
    (verticalM !== null && summary.vertical95M > verticalM)
  );
}

/** A point that is accepted, whatever else it is filled with. */
function blankPoint({ uncertainty, summary }: SingleFigures): Draft<ReducedPoint> {
  return {
    pointId: '',
    occupation: '',
    code: '',
    baseId: null,
    setupKey: null,
    poleLengthM: 0.5,
    baseline: null,
    firstEpochMs: 0.5,
    lastEpochMs: 0.5,
    epochsUsed: 1,
    epochsRejected: 0,
    effectiveEpochs: 0.5,
    position: null,
    uncertainty,
    summary,
    verdict: 'accepted',
    reasons: NO_REASONS,
    passThrough: NO_REASONS,
    place: { sourceIndex: 0, line: 0 },
  };
}
