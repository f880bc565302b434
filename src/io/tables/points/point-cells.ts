import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import { clampedSqrt } from '../../../core/numeric/clamped.js';
import type { ReducedPoint } from '../../../records/points/reduced-point.js';

/** Decimals written for each kind of quantity; nothing is rounded before. */
export const DECIMALS = {
  metres: 4,
  degrees: 9,
  factor: 9,
  convergence: 6,
  ppm: 2,
  correlation: 4,
  azimuth: 6,
  count: 1,
} as const;

const m = (value: number | null): string => (value === null ? '' : formatFixed(value, DECIMALS.metres));

/**
 * A reduced point as the cells of a points file, in the order of `pointColumns`, then the
 * input's other columns. What is not known is an empty cell.
 */
export function pointCells(point: ReducedPoint): string[] {
  const { position, baseline, uncertainty, summary } = point;
  const cells: string[] = [point.pointId, point.occupation, point.code];
  if (position === null) cells.push('', '', '', '', '', '', '', '', '', '', '');
  else {
    const { geodetic } = position;
    cells.push(
      m(position.gridFirst),
      m(position.gridSecond),
      m(position.orthometricHeightM),
      formatFixed(geodetic.latitudeDeg, DECIMALS.degrees),
      formatFixed(geodetic.longitudeDeg, DECIMALS.degrees),
      formatFixed(geodetic.ellipsoidalHeightM, DECIMALS.metres),
      m(position.geoidHeightM),
      optional(position.pointScaleFactor, DECIMALS.factor),
      optional(position.elevationFactor, DECIMALS.factor),
      optional(position.combinedFactor, DECIMALS.factor),
      optional(position.convergenceDeg, DECIMALS.convergence),
    );
  }
  const first = point.firstEpochMs === null ? '' : formatUtc(point.firstEpochMs);
  cells.push(point.baseId ?? '');
  if (baseline === null) cells.push('', '', '');
  else
    cells.push(m(baseline.distanceM), optional(baseline.azimuthDeg, DECIMALS.azimuth), m(baseline.heightDifferenceM));
  cells.push(
    first,
    point.lastEpochMs === null ? '' : point.lastEpochMs === point.firstEpochMs ? first : formatUtc(point.lastEpochMs),
    String(point.epochsUsed),
    String(point.epochsRejected),
    optional(point.effectiveEpochs, DECIMALS.count),
  );
  if (uncertainty === null) cells.push('', '', '', '');
  else {
    const { eeM2, enM2, nnM2, uuM2 } = uncertainty.total;
    const sigmaEastM = clampedSqrt(eeM2);
    const sigmaNorthM = clampedSqrt(nnM2);
    const product = sigmaEastM * sigmaNorthM;
    cells.push(
      m(sigmaEastM),
      m(sigmaNorthM),
      m(clampedSqrt(uuM2)),
      formatFixed(product > 0 ? enM2 / product : 0, DECIMALS.correlation),
    );
  }
  if (summary === null) cells.push('', '', '', '', '');
  else {
    cells.push(
      m(summary.ellipseMajor95M),
      m(summary.ellipseMinor95M),
      formatFixed(summary.ellipseAzimuthDeg, DECIMALS.ppm),
      m(summary.circle95M),
      m(summary.vertical95M),
    );
  }
  cells.push(point.verdict, point.reasons.join(';'));
  for (const cell of point.passThrough) cells.push(cell);
  return cells;
}

function optional(value: number | null, decimals: number): string {
  return value === null ? '' : formatFixed(value, decimals);
}
