import type { PredictedPrecision } from '../../../core/planning/precision-model.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { locateProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { Baseline, ReducedPosition } from '../../../records/points/reduced-point.js';
import { placeOf } from '../../bases/place-of-fixes.js';
import type { PositionedPoint } from '../../join/position-point.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { outsideShift, toNationalPoint } from '../reduction-shift.js';
import type { NationalPoint } from '../reduction-shift.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { OccupationFixes } from './reduce-occupation.js';
import type { Averaging } from './average-occupation.js';

/** Where the mean is, in the frame of the grid, and what is expected of an epoch there. */
export interface Placing {
  readonly national: NationalPoint | null;
  readonly positioned: PositionedPoint | null;
  readonly position: ReducedPosition | null;
  readonly baseline: Baseline | null;
  readonly prediction: PredictedPrecision | null;
}

/** Places the mean. `problems` takes located errors. */
export function placingOf(
  input: OccupationFixes,
  { averaged }: Averaging,
  isSwapped: boolean,
  setup: ReductionSetup,
  positioner: (tip: GeocentricPoint) => PositionedPoint,
  problems: Problem[],
): Placing {
  const { fixes, base } = input;
  const { national, place } = inFrameOfGrid(averaged.mean, input, setup, problems);
  const positioned = place === null ? null : positioner(place);
  if (positioned !== null && !isSwapped)
    for (const problem of positioned.problems) problems.push(locateProblem(problem, placeOf(fixes, setup)));
  const position = positioned?.position ?? null;
  const baseline = position === null || base === null ? null : baselineTo(position, base, setup);
  const prediction =
    // No baseline is known: the part of the model that does not grow with it.
    position === null ? null : setup.precision.at(baseline?.distanceM ?? 0, baseline?.heightDifferenceM ?? null);
  return { national, positioned, position, baseline, prediction };
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
