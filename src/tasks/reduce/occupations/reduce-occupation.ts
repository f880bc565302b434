import { pushAll } from '../../../core/numeric/push-all.js';
import { shortcutErrorM } from '../../../core/observation/base-correction.js';
import { positionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { locateProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../records/record-list.js';
import type { Baseline, ReducedPosition } from '../../../records/points/reduced-point.js';
import { averageEpochs } from '../epochs/average-epochs.js';
import { bendReason } from '../../bases/base-bend.js';
import type { AveragedEpochs } from '../epochs/average-epochs.js';
import { epochResults } from '../epochs/epoch-results.js';
import { present } from '../../../records/present.js';
import { testOccupation, testReasons } from './occupation-tests.js';
import { joinedCell, joinedCells } from '../../repeats/joined-cells.js';
import { occupationSpan } from './occupation-span.js';
import { exchangedFix, outsideArea, placeOf } from '../../bases/place-of-fixes.js';
import { pickedList } from '../packing/packed-records.js';
import { pointVerdict } from './point-verdict.js';
import { scatterOfEpochs } from '../epochs/scatter-of-epochs.js';
import type { PositionedPoint } from '../../join/position-point.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { outsideShift, toNationalPoint } from '../reduction-shift.js';
import type { NationalPoint } from '../reduction-shift.js';
import { reducedOf, refusalsOf } from '../epochs/epochs-of-fixes.js';
import { uncertaintyOfOccupation } from '../uncertainty-of-occupation.js';
import { unfixedMotion } from '../epochs/unfixed-motion.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { ReducedEpoch, ReducedOccupation } from '../reduction-working.js';

/** The fixes of one occupation, in time order, and where they belong. */
export interface OccupationFixes {
  readonly fixes: RecordList<Fix>;
  readonly base: PreparedBase | null;
  readonly occupation: string;
}

const NONE: readonly number[] = [];
const FIRST: readonly number[] = [0];
const CODE_OF = (fix: Fix): string => fix.code;

/**
 * Reduces one occupation: antenna to tip, base correction, acceptance, robust mean, position, grid,
 * uncertainty, verdict. `problems` takes located errors (the point is then without position) and
 * warnings.
 */
export function reduceOccupation(
  input: OccupationFixes,
  setup: ReductionSetup,
  positioner: (tip: GeocentricPoint) => PositionedPoint,
  problems: Problem[],
): ReducedOccupation {
  const { fixes, base } = input;
  const swapped = exchangedFix(fixes, setup);
  if (swapped !== null) problems.push(swapped);
  const first = fixes.at(0);
  const reduced = reducedOf(fixes, base, setup);
  const limitM = baselineForLimit(reduced, base, setup);
  const codes = refusalsOf(fixes, setup, limitM);
  const accepted = acceptedOf(codes);
  const averaged = averageOf(input, reduced, accepted, setup);
  const mean = averaged.mean;
  const epochs = epochResults(fixes, reduced, codes, accepted, averaged.epochs, mean);
  const span = occupationSpan(fixes, epochs);
  const reasons = acceptanceReasons(mean, codes, span, setup);

  const { national, place } = inFrameOfGrid(mean, input, setup, problems);
  const positioned = place === null ? null : positioner(place);
  if (positioned !== null && swapped === null)
    for (const problem of positioned.problems) problems.push(locateProblem(problem, placeOf(fixes, setup)));
  const position = positioned?.position ?? null;
  const baseline = position === null || base === null ? null : baselineTo(position, base, setup);
  const prediction =
    // No baseline is known: the part of the model that does not grow with it.
    position === null ? null : setup.precision.at(baseline?.distanceM ?? 0, baseline?.heightDifferenceM ?? null);
  const tests = averaged.epochs === null || prediction === null ? null : testOccupation(averaged.epochs, prediction);
  if (tests !== null) pushAll(reasons, testReasons(tests));
  const doubtful = mean === null || first?.namedAfterLog === true;
  if (doubtful && !reasons.includes('point-antenna-moving') && unfixedMotion(fixes, reduced))
    reasons.push('point-antenna-moving');
  const uncertainty =
    position === null || prediction === null
      ? null
      : uncertaintyOfOccupation(input, reduced, accepted, averaged.epochs, position, baseline, prediction, setup);
  const summary =
    uncertainty === null
      ? null
      : positionalUncertainty(uncertainty.total, position?.geoidHeightM === null ? null : uncertainty.geoidVarianceM2);

  const correction = base?.correction ?? null;
  const shortcut =
    correction === null || baseline === null || positioned === null || position === null
      ? null
      : shortcutErrorM(
          correction.magnitudeM,
          baseline.distanceM,
          position.geodetic.latitudeDeg,
          positioned.gaussRadiusM,
        );
  const bent = correction === null || uncertainty === null ? null : bendReason(uncertainty, setup.tolerance);
  if (bent !== null) reasons.push(bent);
  if (summary !== null) {
    if (setup.tolerance.horizontalM !== null && summary.circle95M > setup.tolerance.horizontalM)
      reasons.push('point-horizontal-95');
    if (setup.tolerance.verticalM !== null && summary.vertical95M > setup.tolerance.verticalM)
      reasons.push('point-vertical-95');
  }
  if (positioned?.outsideArea === true) {
    reasons.push('point-outside-area');
    if (swapped === null) problems.push(outsideArea(fixes, setup));
  }
  const verdict = pointVerdict(reasons);
  const withheld = verdict === 'rejected';
  return {
    point: {
      pointId: present(first, 'the first fix of an occupation').pointId,
      occupation: input.occupation,
      code: joinedCell(fixes, CODE_OF),
      baseId: base?.settings.id ?? first?.baseId ?? null,
      setupKey: base?.identity.setupKey ?? first?.baseId ?? null,
      poleLengthM: reduced.at(0)?.pole === null ? null : (first?.poleLengthM ?? setup.rover.poleLengthM),
      baseline,
      firstEpochMs: span.firstMs,
      lastEpochMs: span.lastMs,
      epochsUsed: span.used,
      epochsRejected: span.rejected,
      effectiveEpochs: withheld ? null : (uncertainty?.effectiveEpochs ?? null),
      position: withheld ? null : position,
      uncertainty: withheld ? null : uncertainty,
      summary: withheld ? null : summary,
      verdict,
      reasons,
      passThrough: joinedCells(fixes),
      place: first?.place ?? { sourceIndex: 0, line: 0 },
    },
    working: {
      base,
      epochs,
      reduced,
      accepted,
      // Where no epoch was accepted, the first stands as the example.
      example: accepted[0] ?? 0,
      average: averaged.epochs?.average ?? null,
      expected: averaged.epochs?.expected ?? null,
      tests,
      mean,
      national,
      gaussRadiusM: positioned?.gaussRadiusM ?? null,
      position,
      prediction,
      uncertainty,
      shortcutErrorM: shortcut,
    },
  };
}

/** Positions of the epochs that nothing refuses. */
function acceptedOf(codes: RecordList<readonly ProblemCode[]>): readonly number[] {
  if (codes.length === 1) return codes.at(0)?.length === 0 ? FIRST : NONE;
  const accepted: number[] = [];
  for (let i = 0; i < codes.length; i += 1) if (codes.at(i)?.length === 0) accepted.push(i);
  return accepted;
}

/** The baseline used for the limit, of the first epoch; null where no limit asks for it. */
function baselineForLimit(
  reduced: RecordList<ReducedEpoch>,
  base: PreparedBase | null,
  setup: ReductionSetup,
): number | null {
  const first = reduced.at(0);
  if (setup.acceptance.maxBaselineM === null || base === null || first === undefined) return null;
  const { latitudeDeg, longitudeDeg } = base.origin.geodetic;
  return setup.geodesic.distanceM(latitudeDeg, longitudeDeg, first.geodetic.latitudeDeg, first.geodetic.longitudeDeg);
}

function averageOf(
  input: OccupationFixes,
  reduced: RecordList<ReducedEpoch>,
  accepted: readonly number[],
  setup: ReductionSetup,
): { readonly mean: GeocentricPoint | null; readonly epochs: AveragedEpochs | null } {
  const only = accepted[0];
  if (only === undefined) return { mean: null, epochs: null };
  return accepted.length === 1
    ? { mean: reduced.at(only)?.tip ?? null, epochs: null }
    : averageOfSeveral(input, reduced, accepted, setup);
}

function averageOfSeveral(
  input: OccupationFixes,
  reduced: RecordList<ReducedEpoch>,
  accepted: readonly number[],
  setup: ReductionSetup,
): { readonly mean: GeocentricPoint | null; readonly epochs: AveragedEpochs | null } {
  // Most often every epoch is accepted.
  const isWhole = accepted.length === input.fixes.length;
  const fixes = isWhole ? input.fixes : pickedList(input.fixes, accepted);
  const used = isWhole ? reduced : pickedList(reduced, accepted);
  // The first accepted epoch says how the pole was held.
  const pole = reduced.at(accepted[0] ?? 0)?.pole ?? null;
  const epochs = averageEpochs(used, fixes, (middle, spanS) =>
    scatterOfEpochs({ fixes, middle, spanS, base: input.base, pole }, setup),
  );
  return { mean: epochs?.mean ?? null, epochs };
}

function baselineTo(position: ReducedPosition, base: PreparedBase, setup: ReductionSetup): Baseline {
  const from = base.origin.geodetic;
  const to = position.geodetic;
  const line = setup.geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
  return {
    distanceM: line.distanceM,
    azimuthDeg: line.azimuthDeg,
    heightDifferenceM: to.ellipsoidalHeightM - from.ellipsoidalHeightM,
  };
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

/** The mean in the frame of the grid; without a place where there is no mean, or no shift at it, which is a problem. */
function inFrameOfGrid(
  mean: GeocentricPoint | null,
  { fixes, base }: OccupationFixes,
  setup: ReductionSetup,
  problems: Problem[],
): { readonly national: NationalPoint | null; readonly place: GeocentricPoint | null } {
  const { shift } = setup;
  if (mean === null || shift === null) return { national: null, place: mean };
  const national = toNationalPoint(mean, base?.frameReduction ?? null, shift);
  if (national === null) problems.push(locateProblem(outsideShift(shift), placeOf(fixes, setup)));
  return { national, place: national?.national ?? null };
}
