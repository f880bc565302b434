import type { PrecisionModel } from '../../core/planning/precision-model.js';
import type { DayVariance } from '../../records/reports/parts/day-variance.js';

/**
 * What a noisier day adds to a variance that states only its sum.
 *
 * Given: baseline and height difference, metres; what the day says; the planning model. Returned: m², one axis in plan and height: the factor that
 * is allowed less one, times the model's part for a single epoch; nothing where the baseline is not known and only that part grows.
 */
export function addedByDay(
  {
    distanceM,
    vector,
  }: { readonly distanceM: number | null; readonly vector: { readonly heightDifferenceM: number | null } | null },
  { part, allowed }: DayVariance,
  precision: PrecisionModel,
): { readonly planM2: number; readonly upM2: number } {
  // No baseline is known: the part of the model that does not grow with it.
  const { horizontal, vertical } = precision.at(distanceM ?? 0, vector?.heightDifferenceM ?? null);
  const own = ({ totalM, constantM }: { readonly totalM: number; readonly constantM: number }): number =>
    Math.max(0, allowed - 1) * Math.max(0, totalM ** 2 - (part === 'growing' ? constantM ** 2 : 0));
  return { planM2: own(horizontal), upM2: own(vertical) };
}
