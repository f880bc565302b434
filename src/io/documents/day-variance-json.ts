import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { DayVariance } from '../../records/reports/parts/day-variance.js';

/** `day_variance` of a run record and of a check in JSON, described in docs/file-formats.md. Null: no end. Factors to 3 decimals. */
export function dayVarianceJson({
  part,
  points,
  contrasts,
  degreesOfFreedom,
  factor,
  low95,
  high95,
  allowed,
  isNoisier,
  isApplied,
  byBaseline,
  leftOut,
}: DayVariance): Readonly<Record<string, unknown>> {
  return {
    part,
    points,
    differences: contrasts,
    degrees_of_freedom: finite(degreesOfFreedom),
    ...factors({ factor, low95, high95 }),
    factor_allowed: finite(allowed),
    is_noisier: isNoisier,
    is_applied: isApplied,
    by_baseline: byBaseline.map((own) => ({
      from_m: own.fromM,
      to_m: finite(own.toM),
      points: own.points,
      differences: own.contrasts,
      ...factors(own),
    })),
    points_left_out: leftOut,
  };
}

function factors({
  factor,
  low95,
  high95,
}: Pick<DayVariance, 'factor' | 'low95' | 'high95'>): Readonly<Record<string, unknown>> {
  return { factor: finite(factor), factor_low_95: finite(low95), factor_high_95: finite(high95) };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? parseDecimal(formatFixed(value, 3)) : null;
}
