import { leastSquaresLine } from '../core/quality/least-squares-line.js';
import type { Regression } from '../core/quality/least-squares-line.js';
import { sampleStatistics } from '../core/quality/sample-statistics.js';
import type { SampleStatistics } from '../core/quality/sample-statistics.js';
import { RADIANS_PER_DEGREE } from '../core/numeric/angle-units.js';
import type { CheckRow, CheckSetup } from './check-tolerances-setup.js';

/** Statistics of the control residuals, axis by axis; null where an axis has no value. */
export interface ControlSummary {
  readonly first: SampleStatistics | null;
  readonly second: SampleStatistics | null;
  readonly up: SampleStatistics | null;
  readonly along: SampleStatistics | null;
  readonly across: SampleStatistics | null;
  /** East and north on the vector from the base, kilometres: slopes in mm/km are ppm·1. Null where not determined. */
  readonly eastOnVector: Regression | null;
  readonly northOnVector: Regression | null;
  /** Height on the height difference from the base (100 m) and on the distance (km). */
  readonly upOnHeight: Regression | null;
  readonly upOnDistance: Regression | null;
}

/** Bias, deviation and RMSE of the control residuals, and their regression on where the points lie from the base. */
export function controlSummary(rows: readonly CheckRow[], setup: CheckSetup): ControlSummary {
  const control = rows.filter((row) => row.check === 'control');
  const of = (value: (row: CheckRow) => number | null): SampleStatistics | null => {
    const values = control.map(value).filter((entry) => entry !== null);
    return values.length === 0 ? null : sampleStatistics(values);
  };
  const { sign } = setup.axes;
  const vectored = control.flatMap((row) => {
    const { vector, firstM, secondM } = row;
    const azimuthDeg = vector?.azimuthDeg ?? null;
    const distanceM = vector?.distanceM ?? null;
    if (distanceM === null || azimuthDeg === null || firstM === null || secondM === null) return [];
    const alpha = azimuthDeg * RADIANS_PER_DEGREE;
    const km = distanceM / 1000;
    return [{ east: sign * firstM, north: sign * secondM, x: km * Math.sin(alpha), y: km * Math.cos(alpha) }];
  });
  const plane = [vectored.map(({ x }) => x), vectored.map(({ y }) => y)];
  const heights = control.flatMap((row) => {
    const rise = row.vector?.heightDifferenceM ?? null;
    return row.upM === null || rise === null ? [] : [{ up: row.upM, rise: rise / 100 }];
  });
  const distances = control.flatMap((row) => (row.upM === null || row.distanceM === null ? [] : [{ up: row.upM, km: row.distanceM / 1000 }]));
  return {
    first: of((row) => row.firstM),
    second: of((row) => row.secondM),
    up: of((row) => row.upM),
    along: of((row) => row.alongM),
    across: of((row) => row.acrossM),
    eastOnVector: leastSquaresLine(vectored.map(({ east }) => east), plane),
    northOnVector: leastSquaresLine(vectored.map(({ north }) => north), plane),
    upOnHeight: leastSquaresLine(heights.map(({ up }) => up), [heights.map(({ rise }) => rise)]),
    upOnDistance: leastSquaresLine(distances.map(({ up }) => up), [distances.map(({ km }) => km)]),
  };
}
