import { pushAll } from '../../../core/numeric/push-all.js';
import { shortcutErrorM } from '../../../core/observation/base-correction.js';
import { positionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import type { PositionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import type { UncertaintyComponents } from '../../../core/observation/uncertainty/uncertainty-components.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../records/record-list.js';
import { bendReason } from '../../bases/base-bend.js';
import { testOccupation, testReasons } from './occupation-tests.js';
import type { OccupationTests } from './occupation-tests.js';
import type { occupationSpan } from './occupation-span.js';
import { poleDoubt } from '../../check/pole-doubt.js';
import type { PositionedPoint } from '../../join/position-point.js';
import { uncertaintyOfOccupation } from '../uncertainty-of-occupation.js';
import { isSeparationWrong } from '../doubts/separation-doubt.js';
import { isFrozen } from '../epochs/frozen-positions.js';
import { unfixedMotion } from '../epochs/unfixed-motion.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { OccupationFixes } from './reduce-occupation.js';
import type { Averaging } from './average-occupation.js';
import type { Placing } from './place-occupation.js';

/** What the point is worth, and what its epochs say of each other. */
export interface Worth {
  readonly tests: OccupationTests | null;
  readonly uncertainty: UncertaintyComponents | null;
  readonly summary: PositionalUncertainty | null;
  readonly shortcutErrorM: number | null;
}

/** The uncertainty of a placed point, and the tests of its epochs. */
export function worthOf(
  input: OccupationFixes,
  { reduced, accepted, averaged: { epochs } }: Averaging,
  { positioned, position, baseline, prediction }: Placing,
  setup: ReductionSetup,
): Worth {
  if (position === null || prediction === null)
    return { tests: null, uncertainty: null, summary: null, shortcutErrorM: null };
  const uncertainty = uncertaintyOfOccupation(input, reduced, accepted, epochs, position, baseline, prediction, setup);
  const correction = input.base?.correction ?? null;
  return {
    tests: epochs === null ? null : testOccupation(epochs, prediction),
    uncertainty,
    summary: positionalUncertainty(
      uncertainty.total,
      position.geoidHeightM === null ? null : uncertainty.geoidVarianceM2,
    ),
    shortcutErrorM:
      correction === null || baseline === null || positioned === null
        ? null
        : shortcutErrorM(
            correction.magnitudeM,
            baseline.distanceM,
            position.geodetic.latitudeDeg,
            positioned.gaussRadiusM,
          ),
  };
}

/** Why the point is in doubt, or has no coordinate. */
export function reasonsOf(
  { fixes, base }: OccupationFixes,
  { reduced, codes, averaged: { mean }, span }: Averaging,
  { tests, uncertainty, summary }: Worth,
  positioned: PositionedPoint | null,
  setup: ReductionSetup,
): readonly ProblemCode[] {
  const reasons = acceptanceReasons(mean, codes, span, setup);
  if (tests !== null) pushAll(reasons, testReasons(tests));
  const doubtful = mean === null || fixes.at(0)?.namedAfterLog === true;
  if (doubtful && !reasons.includes('point-antenna-moving') && unfixedMotion(fixes, reduced))
    reasons.push('point-antenna-moving');
  const { horizontalM, verticalM } = setup.tolerance;
  const isMoved = (base?.correction ?? null) !== null;
  const bent = !isMoved || uncertainty === null ? null : bendReason(uncertainty, setup.tolerance);
  if (bent !== null) reasons.push(bent);
  if (summary !== null) {
    if (horizontalM !== null && summary.circle95M > horizontalM) reasons.push('point-horizontal-95');
    if (verticalM !== null && summary.vertical95M > verticalM) reasons.push('point-vertical-95');
  }
  if (isFrozen(fixes)) reasons.push('point-positions-frozen');
  const first = fixes.at(0);
  if (first !== undefined && poleDoubt(first, setup.rover) !== null) reasons.push('point-pole-implausible');
  // No position: no geoid height to compare with.
  if (first !== undefined && isSeparationWrong(first, positioned?.position?.geoidHeightM ?? null))
    reasons.push('point-separation-differs');
  if (positioned?.outsideArea === true) reasons.push('point-outside-area');
  return reasons;
}

/** Why too little of an occupation was accepted: of no epoch at all, what refused them; else how few they are or how short. */
function acceptanceReasons(
  mean: GeocentricPoint | null,
  codes: RecordList<readonly ProblemCode[]>,
  span: ReturnType<typeof occupationSpan>,
  { acceptance: { minEpochs, minDurationS } }: ReductionSetup,
): ProblemCode[] {
  const reasons: ProblemCode[] = [];
  if (mean === null) {
    reasons.push('point-no-accepted-epoch');
    for (const list of codes) for (const code of list) if (!reasons.includes(code)) reasons.push(code);
    return reasons;
  }
  if (minEpochs !== null && span.used < minEpochs) reasons.push('point-too-few-epochs');
  if (minDurationS !== null && span.durationS < minDurationS) reasons.push('point-too-short');
  return reasons;
}
