import { ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { PointVerdict, ReducedPoint } from '../../../records/points/reduced-point.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { createPackedRecords } from './packed-records.js';
import type { CellOf, PackedCell, PackedRecords, Packing } from './packed-records.js';

const NO_REASONS: readonly ProblemCode[] = Object.freeze([]);
const NO_CELLS: readonly string[] = Object.freeze([]);
const COVARIANCE_CELLS = 6;

/** Where the parts of a point begin among its cells. */
const [BASELINE, POSITION, UNCERTAINTY, SUMMARY] = [15, 18, 29, 78] as const;
/** Cells of a point before those that pass through; the last of them says how many these are. */
const OWN_CELLS = 84;

/** Packed together: a point has some three kilobytes until then. */
const TOGETHER = 128;

/** A reduced point in cells: its own members, then the baseline, the position, the uncertainty and the summary, the first cell of each null where it is. */
const REDUCED_PACKING: Packing<ReducedPoint> = {
  cells: (point) => [
    point.pointId,
    point.occupation,
    point.code,
    point.baseId,
    point.setupKey,
    point.poleLengthM,
    point.firstEpochMs,
    point.lastEpochMs,
    point.epochsUsed,
    point.epochsRejected,
    point.effectiveEpochs,
    point.verdict,
    point.reasons.length === 0 ? null : point.reasons.join(' '),
    point.place.sourceIndex,
    point.place.line,
    ...baselineCells(point.baseline),
    ...positionCells(point.position),
    ...uncertaintyCells(point.uncertainty),
    ...summaryCells(point.summary),
    point.passThrough.length,
    ...point.passThrough,
  ],
  record(cell) {
    const reasons = cell(12) as string | null;
    const passing = cell(OWN_CELLS - 1) as number;
    return {
      pointId: cell(0) as string,
      occupation: cell(1) as string,
      code: cell(2) as string,
      baseId: cell(3) as string | null,
      setupKey: cell(4) as string | null,
      poleLengthM: cell(5) as number | null,
      baseline: baselineOf(cell),
      firstEpochMs: cell(6) as number | null,
      lastEpochMs: cell(7) as number | null,
      epochsUsed: cell(8) as number,
      epochsRejected: cell(9) as number,
      effectiveEpochs: cell(10) as number | null,
      position: positionOf(cell),
      uncertainty: uncertaintyOf(cell),
      summary: summaryOf(cell),
      verdict: cell(11) as PointVerdict,
      reasons: reasons === null ? NO_REASONS : (reasons.split(' ') as ProblemCode[]),
      passThrough:
        passing === 0 ? NO_CELLS : Array.from({ length: passing }, (_, place) => cell(OWN_CELLS + place) as string),
      place: { sourceIndex: cell(13) as number, line: cell(14) as number },
    };
  },
};

/** An empty list of reduced points. */
export function createPackedReduced(): PackedRecords<ReducedPoint> {
  return createPackedRecords(REDUCED_PACKING, TOGETHER);
}

const NO_BASELINE: readonly PackedCell[] = Object.freeze(new Array<PackedCell>(POSITION - BASELINE).fill(null));
const NO_POSITION: readonly PackedCell[] = Object.freeze(new Array<PackedCell>(UNCERTAINTY - POSITION).fill(null));
const NO_UNCERTAINTY: readonly PackedCell[] = Object.freeze(new Array<PackedCell>(SUMMARY - UNCERTAINTY).fill(null));
const NO_SUMMARY: readonly PackedCell[] = Object.freeze(new Array<PackedCell>(OWN_CELLS - 1 - SUMMARY).fill(null));

function baselineCells(baseline: ReducedPoint['baseline']): readonly PackedCell[] {
  return baseline === null ? NO_BASELINE : [baseline.distanceM, baseline.azimuthDeg, baseline.heightDifferenceM];
}

function baselineOf(cell: CellOf): ReducedPoint['baseline'] {
  const distanceM = cell(BASELINE) as number | null;
  return distanceM === null
    ? null
    : {
        distanceM,
        azimuthDeg: cell(BASELINE + 1) as number | null,
        heightDifferenceM: cell(BASELINE + 2) as number,
      };
}

function positionCells(position: ReducedPoint['position']): readonly PackedCell[] {
  return position === null
    ? NO_POSITION
    : [
        position.geodetic.latitudeDeg,
        position.geodetic.longitudeDeg,
        position.geodetic.ellipsoidalHeightM,
        position.geoidHeightM,
        position.orthometricHeightM,
        position.gridFirst,
        position.gridSecond,
        position.pointScaleFactor,
        position.elevationFactor,
        position.combinedFactor,
        position.convergenceDeg,
      ];
}

function positionOf(cell: CellOf): ReducedPoint['position'] {
  const latitudeDeg = cell(POSITION) as number | null;
  if (latitudeDeg === null) return null;
  const number = (place: number): number | null => cell(POSITION + place) as number | null;
  return {
    geodetic: {
      latitudeDeg,
      longitudeDeg: cell(POSITION + 1) as number,
      ellipsoidalHeightM: cell(POSITION + 2) as number,
    },
    geoidHeightM: number(3),
    orthometricHeightM: number(4),
    gridFirst: number(5),
    gridSecond: number(6),
    pointScaleFactor: number(7),
    elevationFactor: number(8),
    combinedFactor: number(9),
    convergenceDeg: number(10),
  };
}

function uncertaintyCells(uncertainty: ReducedPoint['uncertainty']): readonly PackedCell[] {
  return uncertainty === null
    ? NO_UNCERTAINTY
    : [
        ...covarianceCells(uncertainty.noise),
        ...covarianceCells(uncertainty.correlated),
        ...covarianceCells(uncertainty.baseline),
        ...covarianceCells(uncertainty.age),
        ...covarianceCells(uncertainty.pole),
        ...covarianceCells(uncertainty.base),
        ...covarianceCells(uncertainty.bend),
        ...covarianceCells(uncertainty.total),
        uncertainty.geoidVarianceM2,
      ];
}

function uncertaintyOf(cell: CellOf): ReducedPoint['uncertainty'] {
  if (cell(UNCERTAINTY) === null) return null;
  const part = (index: number): LocalCovariance => covarianceOf(cell, UNCERTAINTY + COVARIANCE_CELLS * index);
  return {
    noise: part(0),
    correlated: part(1),
    baseline: part(2),
    age: part(3),
    pole: part(4),
    base: part(5),
    bend: part(6),
    total: part(7),
    geoidVarianceM2: cell(SUMMARY - 1) as number | null,
  };
}

function covarianceCells({ eeM2, enM2, euM2, nnM2, nuM2, uuM2 }: LocalCovariance): readonly PackedCell[] {
  return [eeM2, enM2, euM2, nnM2, nuM2, uuM2];
}

/** One with nothing in it is `ZERO_COVARIANCE`, by which the joining of occupations knows an age that is not stated. */
function covarianceOf(cell: CellOf, from: number): LocalCovariance {
  const number = (place: number): number => cell(from + place) as number;
  const [eeM2, enM2, euM2, nnM2, nuM2, uuM2] = [number(0), number(1), number(2), number(3), number(4), number(5)];
  return [eeM2, enM2, euM2, nnM2, nuM2, uuM2].every((value) => Object.is(value, 0))
    ? ZERO_COVARIANCE
    : { eeM2, enM2, euM2, nnM2, nuM2, uuM2 };
}

function summaryCells(summary: ReducedPoint['summary']): readonly PackedCell[] {
  return summary === null
    ? NO_SUMMARY
    : [
        summary.ellipseMajor95M,
        summary.ellipseMinor95M,
        summary.ellipseAzimuthDeg,
        summary.circle95M,
        summary.vertical95M,
      ];
}

function summaryOf(cell: CellOf): ReducedPoint['summary'] {
  const ellipseMajor95M = cell(SUMMARY) as number | null;
  return ellipseMajor95M === null
    ? null
    : {
        ellipseMajor95M,
        ellipseMinor95M: cell(SUMMARY + 1) as number,
        ellipseAzimuthDeg: cell(SUMMARY + 2) as number,
        circle95M: cell(SUMMARY + 3) as number,
        vertical95M: cell(SUMMARY + 4) as number,
      };
}
