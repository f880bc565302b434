import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { Problem } from '../../../records/problem.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../records/record-list.js';
import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import { present } from '../../../records/present.js';
import { joinedCell, joinedCells } from '../../repeats/joined-cells.js';
import { exchangedFix, outsideArea } from '../../bases/place-of-fixes.js';
import { pointVerdict } from './point-verdict.js';
import type { PositionedPoint } from '../../join/position-point.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { ReducedOccupation } from '../reduction-working.js';
import { averagingOf } from './average-occupation.js';
import type { Averaging } from './average-occupation.js';
import { placingOf } from './place-occupation.js';
import type { Placing } from './place-occupation.js';
import { worthOf, reasonsOf } from './judge-occupation.js';
import type { Worth } from './judge-occupation.js';

/** The fixes of one occupation, in time order, and where they belong. */
export interface OccupationFixes {
  readonly fixes: RecordList<Fix>;
  readonly base: PreparedBase | null;
  readonly occupation: string;
}

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
  const averaging = averagingOf(input, setup);
  const placing = placingOf(input, averaging, swapped !== null, setup, positioner, problems);
  const worth = worthOf(input, averaging, placing, setup);
  const reasons = reasonsOf(input, averaging, worth, placing.positioned, setup);
  if (reasons.includes('point-outside-area') && swapped === null) problems.push(outsideArea(fixes, setup));
  const { reduced, accepted, averaged, epochs } = averaging;
  return {
    point: pointOf(input, averaging, placing, worth, reasons, setup),
    working: {
      base,
      epochs,
      reduced,
      accepted,
      // Where no epoch was accepted, the first stands as the example.
      example: accepted[0] ?? 0,
      average: averaged.epochs?.average ?? null,
      expected: averaged.epochs?.expected ?? null,
      tests: worth.tests,
      mean: averaged.mean,
      national: placing.national,
      gaussRadiusM: placing.positioned?.gaussRadiusM ?? null,
      position: placing.position,
      prediction: placing.prediction,
      uncertainty: worth.uncertainty,
      shortcutErrorM: worth.shortcutErrorM,
    },
  };
}

/** The point as it is written; where it is rejected its coordinate is withheld. */
function pointOf(
  { fixes, base, occupation }: OccupationFixes,
  { reduced, span }: Averaging,
  { position, baseline }: Placing,
  { uncertainty, summary }: Worth,
  reasons: readonly ProblemCode[],
  setup: ReductionSetup,
): ReducedPoint {
  const first = present(fixes.at(0), 'the first fix of an occupation');
  const verdict = pointVerdict(reasons);
  const withheld = verdict === 'rejected';
  return {
    pointId: first.pointId,
    occupation,
    code: joinedCell(fixes, CODE_OF),
    baseId: base?.settings.id ?? first.baseId,
    setupKey: base?.identity.setupKey ?? first.baseId,
    poleLengthM: reduced.at(0)?.pole === null ? null : (first.poleLengthM ?? setup.rover.poleLengthM),
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
    place: first.place,
  };
}
