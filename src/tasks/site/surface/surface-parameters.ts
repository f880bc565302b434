import type { HeightSurface } from '../../../core/heights/height-surface.js';
import type { SiteParameter } from '../../../records/reports/site-report.js';
import { halfWidths95 } from '../control/half-width.js';

/** What each coefficient of a trend is, and its unit; millimetres. */
const PLANE = [
  ['Trend: offset in the middle of the benchmarks', 'mm'],
  ['Trend: slope to the east of the grid', 'mm/km'],
  ['Trend: slope to the north of the grid', 'mm/km'],
] as const;
const ON_THE_SPHERE = [
  ['Trend: offset in the middle of the benchmarks', 'mm'],
  ['Trend: slope to the east', 'mm/km'],
  ['Trend: slope to the north', 'mm/km'],
  ['Trend: bowl', 'mm/km²'],
  ['Trend: bowl along the meridian', 'mm/km²'],
] as const;

/** Coefficients and signal of a surface. Given: the half-width of 95 % in sigmas; null: not known. */
export function surfaceParameters(surface: HeightSurface, factor95: number | null): readonly SiteParameter[] {
  const { trend, coefficients, cofactor, varianceFactor, signal } = surface;
  const half = halfWidths95(
    cofactor.map((value) => value * varianceFactor),
    coefficients.length,
    factor95,
  );
  const words = trend === 'plane' ? PLANE : ON_THE_SPHERE;
  return [
    ...coefficients.map((value, at): SiteParameter => {
      const [name, unit] = words[at] as (typeof ON_THE_SPHERE)[number];
      const width = half(at);
      return {
        name,
        value: value * 1000,
        halfWidth95: width === null ? null : width * 1000,
        unit,
        decimals: at < 3 ? 2 : 4,
      };
    }),
    {
      name: `Signal (${signal.kind}), one sigma √C₀`,
      value: signal.sigmaM * 1000,
      halfWidth95: null,
      unit: 'mm',
      decimals: 2,
    },
    { name: 'Signal, length L', value: signal.lengthM / 1000, halfWidth95: null, unit: 'km', decimals: 2 },
  ];
}
