import { leastSquaresLine } from '../../core/quality/least-squares-line.js';
import type { Regression } from '../../core/quality/least-squares-line.js';
import { sampleStatistics } from '../../core/quality/standards/sample-statistics.js';
import type { SampleStatistics } from '../../core/quality/standards/sample-statistics.js';
import { RADIANS_PER_DEGREE } from '../../core/numeric/angle-units.js';
import type { CheckRow, CheckSetup } from './judge/check-tolerances-setup.js';

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
export function controlSummary(rows: Iterable<CheckRow>, setup: CheckSetup): ControlSummary {
  const [eastSign, northSign] = setup.axes.signs;
  const [first, second, height, along, across] = [columns(1), columns(1), columns(1), columns(1), columns(1)];
  const [vectored, heights, distances] = [columns(4), columns(2), columns(2)];
  for (const row of rows) {
    const { vector, firstM, secondM, upM, distanceM } = row;
    first.add(firstM);
    second.add(secondM);
    height.add(upM);
    along.add(row.alongM);
    across.add(row.acrossM);
    const azimuthDeg = vector?.azimuthDeg ?? null;
    const lengthM = vector?.distanceM ?? null;
    const rise = vector?.heightDifferenceM ?? null;
    if (lengthM !== null && azimuthDeg !== null && firstM !== null && secondM !== null) {
      const alpha = azimuthDeg * RADIANS_PER_DEGREE;
      const km = lengthM / 1000;
      vectored.add(eastSign * firstM, northSign * secondM, km * Math.sin(alpha), km * Math.cos(alpha));
    }
    heights.add(upM, rise === null ? null : rise / 100);
    distances.add(upM, distanceM === null ? null : distanceM / 1000);
  }
  const of = ({ of: [own = []] }: Columns): SampleStatistics | null =>
    own.length === 0 ? null : sampleStatistics(own);
  const [east = [], north = [], ...plane] = vectored.of;
  const [up = [], ...rises] = heights.of;
  const [upFar = [], ...far] = distances.of;
  return {
    first: of(first),
    second: of(second),
    up: of(height),
    along: of(along),
    across: of(across),
    eastOnVector: leastSquaresLine(east, plane),
    northOnVector: leastSquaresLine(north, plane),
    upOnHeight: leastSquaresLine(up, rises),
    upOnDistance: leastSquaresLine(upFar, far),
  };
}

/** Values that belong together, column by column. */
interface Columns {
  readonly of: readonly (readonly number[])[];
  /** Adds one to each column, or to none where one is not known. */
  readonly add: (...values: readonly (number | null)[]) => void;
}

function columns(count: number): Columns {
  const of = Array.from({ length: count }, (): number[] => []);
  return {
    of,
    add(...values) {
      if (values.includes(null)) return;
      for (let place = 0; place < count; place += 1) of[place]?.push(values[place] as number);
    },
  };
}
