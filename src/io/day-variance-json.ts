import { parseDecimal } from '../core/numeric/decimal-text.js';
import { formatFixed } from '../core/numeric/format-fixed.js';
import type { DayVariance } from '../records/day-variance.js';

/** `day_variance` of a run record and of a check in JSON, described in docs/file-formats.md. Null: no end. Factors to 3 decimals. */
export function dayVarianceJson(day: readonly DayVariance[]): readonly Readonly<Record<string, unknown>>[] {
  return day.map(({ fromM, toM, points, degreesOfFreedom, factor, low95, high95, isNoisier, isApplied, leftOut }) => ({
    from_m: fromM,
    to_m: finite(toM),
    points,
    degrees_of_freedom: degreesOfFreedom,
    factor: finite(factor),
    factor_low_95: finite(low95),
    factor_high_95: finite(high95),
    is_noisier: isNoisier,
    is_applied: isApplied,
    points_left_out: leftOut,
  }));
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? parseDecimal(formatFixed(value, 3)) : null;
}
