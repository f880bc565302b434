import { coverageRing, LARGEST_RING_RADIUS_M } from '../../../core/planning/coverage/coverage-ring.js';
import type { CoverageRing } from '../../../core/planning/coverage/coverage-ring.js';
import { densifyLine } from '../../../core/planning/coverage/densify-line.js';
import type { PlanPlace, PlanPoint } from '../../../core/planning/plan-point.js';
import type { Geodesic } from '../../../core/ellipsoid/geodesic.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Conditions } from '../../../records/session.js';
import type { ToleranceRange } from '../tolerance-ranges.js';

/** The ring of one base, one of the conditions and one pair of tolerances. */
export interface PlanRing {
  readonly base: PlanPoint;
  readonly conditions: Conditions;
  readonly tolerance: ToleranceRange;
  readonly radiusM: number;
  readonly decidedBy: 'horizontal' | 'vertical';
  readonly ring: CoverageRing;
}

/** With more pairs of tolerances than this only the shortest and the longest range are drawn. */
export const MOST_TOLERANCES_DRAWN = 5;

/** A straight line on a map bends away from the geodesic; parts of this length bend by metres only. */
const LINE_PART_M = 10_000;

/** The pairs of tolerances that are drawn: all, or the first and the last of the sorted list. */
export function drawnTolerances(ranges: readonly ToleranceRange[]): readonly ToleranceRange[] {
  if (ranges.length <= MOST_TOLERANCES_DRAWN) return ranges;
  return [ranges[0], ranges.at(-1)].filter((range) => range !== undefined);
}

/**
 * Rings at the usable range about each base, for equal heights.
 *
 * Given: geodesic calculator; bases; tolerances to be drawn; vertices to a ring. Returned: rings in the order of bases,
 * conditions and tolerances; none where the range is 0 or beyond 4000 km. Problems: those of `coverageRing`.
 */
export function planRings(
  geodesic: Geodesic,
  bases: readonly PlanPoint[],
  tolerances: readonly ToleranceRange[],
  vertexCount: number,
): Outcome<readonly PlanRing[]> {
  const rings: PlanRing[] = [];
  for (const base of bases) {
    for (const tolerance of tolerances) {
      for (const { conditions, range } of tolerance.byConditions) {
        if (!(range.rangeM > 0) || range.rangeM > LARGEST_RING_RADIUS_M) continue;
        const ring = coverageRing(geodesic, base, range.rangeM, vertexCount);
        if (!ring.ok) return ring;
        rings.push({
          base,
          conditions,
          tolerance,
          radiusM: range.rangeM,
          decidedBy: range.decidedBy,
          ring: ring.value,
        });
      }
    }
  }
  return success(rings);
}

/**
 * The geodesic from a base to a target as lines for RFC 7946: parts of at most 10 km, cut in two at the 180th meridian
 * (section 3.1.9). Empty where both are one place.
 */
export function baselineParts(
  geodesic: Geodesic,
  base: PlanPlace,
  target: PlanPlace,
): readonly (readonly PlanPlace[])[] {
  const ends = [base, target].map((place) => ({
    latitudeDeg: place.latitudeDeg,
    longitudeDeg: place.longitudeDeg,
    ellipsoidalHeightM: null,
  }));
  const dense = densifyLine(geodesic, ends, LINE_PART_M);
  if (!dense.ok) return [];
  const parts: PlanPlace[][] = [[]];
  let before: PlanPlace | null = null;
  for (const { latitudeDeg, longitudeDeg } of dense.value) {
    const here = { latitudeDeg, longitudeDeg };
    const jumpDeg = before === null ? 0 : longitudeDeg - before.longitudeDeg;
    if (before !== null && Math.abs(jumpDeg) > 180) {
      const sideDeg = before.longitudeDeg > 0 ? 180 : -180;
      const wholeDeg = 360 - Math.abs(jumpDeg);
      const share = wholeDeg === 0 ? 0 : Math.abs(sideDeg - before.longitudeDeg) / wholeDeg;
      const crossingDeg = before.latitudeDeg + share * (latitudeDeg - before.latitudeDeg);
      parts.at(-1)?.push({ latitudeDeg: crossingDeg, longitudeDeg: sideDeg });
      parts.push([{ latitudeDeg: crossingDeg, longitudeDeg: -sideDeg }]);
    }
    parts.at(-1)?.push(here);
    before = here;
  }
  return parts;
}
