import type { DistanceMatrix, DistanceRow } from '../../../core/planning/siting/distance-matrix.js';
import type { BaseCandidate } from '../../../core/planning/plan-point.js';
import type { Geodesic } from '../../../core/ellipsoid/geodesic.js';
import type { PlanTarget } from './plan-target.js';
import type { RangeFinder, RangesByMetre } from './range-finder.js';

/** Writes the distances and ratios of one candidate into a row. */
export type RatioRows = (candidate: BaseCandidate, into: DistanceRow) => void;

/**
 * Distances from a candidate to every target, and their ratios to the usable range, in which the
 * height difference counts where both heights and a vertical tolerance are known.
 *
 * Given: geodesic calculator; targets; the finder. A pair without a range (its tolerance is below what
 * does not grow with distance, for instance over a great height difference) gets a ratio above 2.
 */
export function ratioRows(geodesic: Geodesic, targets: readonly PlanTarget[], ranges: RangeFinder): RatioRows {
  const { classOf, classes } = rangesOfTargets(targets, ranges);
  // In arrays, since every pair of a candidate and a target passes here.
  const distances = geodesic.distancesTo(
    Float64Array.from(targets, ({ latitudeDeg }) => latitudeDeg),
    Float64Array.from(targets, ({ longitudeDeg }) => longitudeDeg),
  );
  // A height that is not known has no number.
  const heightM = Float64Array.from(targets, ({ ellipsoidalHeightM }) => ellipsoidalHeightM ?? Number.NaN);
  return (candidate, { distanceM, ratio }) => {
    distances(candidate.latitudeDeg, candidate.longitudeDeg, distanceM);
    const baseM = candidate.ellipsoidalHeightM ?? Number.NaN;
    for (let column = 0; column < distanceM.length; column += 1) {
      const own = classes[classOf[column] as number] as RangesByMetre;
      const apartM = Math.abs((heightM[column] as number) - baseM);
      const metre = own.isByHeight && apartM === apartM ? Math.ceil(apartM) : 0;
      const { known } = own;
      let rangeM = metre < known.length ? (known[metre] as number) : Number.NaN;
      if (Number.isNaN(rangeM)) rangeM = own.metresAt(metre);
      const distance = distanceM[column] as number;
      ratio[column] = rangeM > 0 ? distance / rangeM : 2 + distance;
    }
  };
}

/** The rows of all candidates together. */
export function ratioMatrix(
  rows: RatioRows,
  candidates: readonly BaseCandidate[],
  targets: readonly PlanTarget[],
): DistanceMatrix {
  const count = candidates.length * targets.length;
  const [distanceM, ratio] = [new Float64Array(count), new Float64Array(count)];
  candidates.forEach((candidate, row) => {
    const [from, end] = [row * targets.length, (row + 1) * targets.length];
    rows(candidate, { distanceM: distanceM.subarray(from, end), ratio: ratio.subarray(from, end) });
  });
  return { candidateCount: candidates.length, pointCount: targets.length, distanceM, ratio };
}

/** Targets of the same two tolerances share their ranges. */
function rangesOfTargets(
  targets: readonly PlanTarget[],
  ranges: RangeFinder,
): { readonly classOf: Int32Array; readonly classes: readonly RangesByMetre[] } {
  const known = new Map<string, number>();
  const classes: RangesByMetre[] = [];
  const classOf = Int32Array.from(targets, ({ toleranceHorizontalM, toleranceVerticalM }) => {
    const key = `${String(toleranceHorizontalM)} ${String(toleranceVerticalM)}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    known.set(key, classes.length);
    return classes.push(ranges.byMetres(toleranceHorizontalM, toleranceVerticalM)) - 1;
  });
  return { classOf, classes };
}

/** The matrix of some of its targets. */
export function columnsOf(matrix: DistanceMatrix, columns: readonly number[]): DistanceMatrix {
  const pick = (values: Float64Array): Float64Array => {
    const picked = new Float64Array(matrix.candidateCount * columns.length);
    for (let row = 0; row < matrix.candidateCount; row += 1) {
      columns.forEach((column, at) => {
        // In a loop over bases and points; both places are inside their lists.
        picked[row * columns.length + at] = values[row * matrix.pointCount + column] ?? 0;
      });
    }
    return picked;
  };
  return {
    candidateCount: matrix.candidateCount,
    pointCount: columns.length,
    distanceM: pick(matrix.distanceM),
    ratio: pick(matrix.ratio),
  };
}
