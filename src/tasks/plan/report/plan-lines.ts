import { createPredictor } from '../../../core/planning/prediction.js';
import { LONGEST_RANGE_M } from '../../../core/planning/usable-range.js';
import type { PlanPlace, PlanPoint } from '../../../core/planning/plan-point.js';
import { largestOf } from '../../../core/numeric/extremes.js';
import type { PlanReportCurve, PlanReportRing } from '../../../records/reports/plan-report.js';
import type { ReportPlace } from '../../../records/reports/reduction-report.js';
import { planRings } from '../targets/coverage-shapes.js';
import type { PlanSetup } from '../targets/plan-target.js';
import type { ToleranceRange } from '../tolerance-ranges.js';

const RING_VERTICES = 90;
const CURVE_STEPS = 48;

/** More pairs of tolerances than this are not drawn: those that reach least are. */
const MOST_FAMILIES = 4;

/**
 * Rings of the pair of tolerances that reaches least, which is the one that counts, under all conditions; of the other pairs under
 * those that are judged.
 */
export function ringsOf(
  { geodesic, conditions: judged }: PlanSetup,
  bases: readonly PlanPoint[],
  ranges: readonly ToleranceRange[],
  placeOf: (place: PlanPlace) => ReportPlace | null,
): readonly PlanReportRing[] {
  const drawn = planRings(geodesic, bases, ranges.slice(0, MOST_FAMILIES), RING_VERTICES);
  if (!drawn.ok) return [];
  return drawn.value
    .filter(({ tolerance, conditions }) => tolerance === ranges[0] || conditions === judged)
    .map(({ base, conditions, radiusM, tolerance }) => ({
      baseId: base.id,
      tolerance: ranges.indexOf(tolerance),
      conditions,
      radiusM,
      places: ringPlaces(geodesic, base, radiusM).flatMap((place) => placeOf(place) ?? []),
    }));
}

/** A whole circle about a base: that of a map in degrees is cut at the 180th meridian, and a plan is not. */
function ringPlaces(
  geodesic: PlanSetup['geodesic'],
  { latitudeDeg, longitudeDeg }: PlanPoint,
  radiusM: number,
): readonly PlanPlace[] {
  return Array.from({ length: RING_VERTICES + 1 }, (_, index) =>
    geodesic.direct(latitudeDeg, longitudeDeg, 360 - (360 * (index % RING_VERTICES)) / RING_VERTICES, radiusM),
  );
}

/** What is predicted with distance from a base, at equal heights, under all conditions. */
export function curvesOf(
  { geodesic, prediction }: PlanSetup,
  base: PlanPoint,
  ranges: readonly ToleranceRange[],
  longestBaselineM: number,
): readonly PlanReportCurve[] {
  const reach = ranges
    .flatMap(({ byConditions }) => byConditions.map(({ range }) => range.rangeM))
    .filter((rangeM) => rangeM < LONGEST_RANGE_M);
  const farM = Math.min(
    200_000,
    largestOf(
      reach.map((rangeM) => Math.min(1.1 * rangeM, 1.6 * Math.max(longestBaselineM, 5000))),
      Math.max(10_000, 1.2 * longestBaselineM),
    ),
  );
  const predictor = createPredictor(geodesic, base, prediction);
  const curves = new Map<
    string,
    {
      readonly conditions: PlanReportCurve['conditions'];
      readonly places: { distanceM: number; circle95M: number; vertical95M: number }[];
    }
  >();
  for (let step = 0; step <= CURVE_STEPS; step += 1) {
    const end = geodesic.direct(base.latitudeDeg, base.longitudeDeg, 0, (farM * step) / CURVE_STEPS);
    const point = {
      id: '',
      latitudeDeg: end.latitudeDeg,
      longitudeDeg: end.longitudeDeg,
      ellipsoidalHeightM: base.ellipsoidalHeightM,
      toleranceHorizontalM: null,
      toleranceVerticalM: null,
    };
    const { baselineM, byConditions } = predictor.at(point);
    for (const { conditions, uncertainty } of byConditions) {
      const curve = curves.get(conditions) ?? { conditions, places: [] };
      curves.set(conditions, curve);
      curve.places.push({
        distanceM: baselineM,
        circle95M: uncertainty.circle95M,
        vertical95M: uncertainty.vertical95M,
      });
    }
  }
  return [...curves.values()];
}
