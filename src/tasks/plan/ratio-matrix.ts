import { distanceMatrix } from '../../core/planning/siting/distance-matrix.js';
import type { DistanceMatrix } from '../../core/planning/siting/distance-matrix.js';
import type { BaseCandidate } from '../../core/planning/plan-point.js';
import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import type { PlanTarget } from './plan-target.js';
import type { RangeFinder } from './range-finder.js';

/**
 * Distances from every candidate to every target, and their ratios to the usable range, in which the
 * height difference counts where both heights and a vertical tolerance are known.
 *
 * Given: geodesic calculator; candidates; targets; the finder. A pair without a range (its tolerance is below what
 * does not grow with distance, for instance over a great height difference) gets a ratio above 2.
 */
export function ratioMatrix(
  geodesic: Geodesic,
  candidates: readonly BaseCandidate[],
  targets: readonly PlanTarget[],
  ranges: RangeFinder,
): DistanceMatrix {
  const level = Float64Array.from(
    targets,
    (target) => ranges.at(target.toleranceHorizontalM, target.toleranceVerticalM, null).rangeM,
  );
  const matrix = distanceMatrix(geodesic, candidates, targets, level);
  candidates.forEach((candidate, row) => {
    targets.forEach((target, column) => {
      const at = row * targets.length + column;
      // In a loop over bases and points; the place is inside the matrix.
      const distanceM = matrix.distanceM[at] ?? 0;
      const apartM =
        candidate.ellipsoidalHeightM === null || target.ellipsoidalHeightM === null
          ? null
          : target.ellipsoidalHeightM - candidate.ellipsoidalHeightM;
      const rangeM =
        apartM === null || target.toleranceVerticalM === null
          ? // In a loop over bases and points; the place is inside the matrix.
            (level[column] ?? 0)
          : ranges.at(target.toleranceHorizontalM, target.toleranceVerticalM, apartM).rangeM;
      matrix.ratio[at] = rangeM > 0 ? distanceM / rangeM : 2 + distanceM;
    });
  });
  return matrix;
}
