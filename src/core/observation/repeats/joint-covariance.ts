import { entryAt } from '../../../records/present.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import {
  correlationAfter,
  middleSeparationS,
  RECORDING_VARIANCE_M2,
  sharedErrors,
  slowCross,
} from './occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from './occupation-estimate.js';

const ENTRIES = [
  ['eeM2', 'enM2', 'euM2'],
  ['enM2', 'nnM2', 'nuM2'],
  ['euM2', 'nuM2', 'uuM2'],
] as const satisfies readonly (readonly (keyof LocalCovariance)[])[];

/**
 * The full covariance of a few occupations of a point, east, north and up of one after the other, written out for people:
 * `combineOccupations` works with the same matrix and never holds it.
 *
 * Given: as there; few of them, since it grows with the square of their count. Returned: rows, m².
 */
export function jointCovariance(
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
): readonly (readonly number[])[] {
  return estimates.flatMap((a, i) =>
    [0, 1, 2].map((row) =>
      estimates.flatMap((b, j) => [0, 1, 2].map((column) => entry(a, b, i === j, row, column, times))),
    ),
  );
}

function entry(
  a: OccupationEstimate,
  b: OccupationEstimate,
  isOne: boolean,
  row: number,
  column: number,
  times: CorrelationTimes,
): number {
  const key = entryAt(entryAt(ENTRIES, row), column);
  const own = new Map(sharedErrors(a));
  let value = sharedErrors(b).reduce((sum, [error]) => sum + (own.get(error)?.[key] ?? NOT_SHARED), 0);
  if (isOne) value += a.independent[key];
  if (row !== column) return value;
  const separationS = middleSeparationS(a, b);
  const tauS = row === 2 ? times.correlationVerticalS : times.correlationHorizontalS;
  // Without times slow errors count as one.
  const rho = isOne || separationS === null ? 1 : correlationAfter(separationS, tauS);
  value += slowCross(a, b, key as 'eeM2' | 'nnM2' | 'uuM2', rho);
  return isOne ? value + RECORDING_VARIANCE_M2 : value;
}

/** An error that the other occupation does not have. */
const NOT_SHARED = 0;
