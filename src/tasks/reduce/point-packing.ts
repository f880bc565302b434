import type { ControlRole, PointRow } from '../../records/points/point-row.js';
import { createPackedRecords } from './packing/packed-records.js';
import type { CellOf, PackedRecords, Packing } from './packing/packed-records.js';

const NO_CELLS: readonly string[] = Object.freeze([]);

/** Packed together: so few are loose that they do not outlive the nursery. */
const TOGETHER = 128;

/** Cells of a point before those that pass through. */
const OWN_CELLS = 36;

/** A point in cells: its members, its place, how finely its two positions are written, then how many cells pass through, and those. */
const POINT_PACKING: Packing<PointRow> = {
  cells: (point) => [
    point.pointId,
    point.occupation,
    point.code,
    point.gridFirst,
    point.gridSecond,
    point.latitudeDeg,
    point.longitudeDeg,
    point.ellipsoidalHeightM,
    point.orthometricHeightM,
    point.geoidHeightM,
    point.baseId,
    point.baselineM,
    point.baselineAzimuthDeg,
    point.baselineHeightDifferenceM,
    point.firstEpochMs,
    point.lastEpochMs,
    point.sigmaEastM,
    point.sigmaNorthM,
    point.sigmaUpM,
    point.correlationEn,
    point.sigmaHorizontalM,
    point.sigmaVerticalM,
    point.combinedFactor,
    point.poleLengthM,
    point.tiltDeg,
    point.toleranceHorizontalM,
    point.toleranceVerticalM,
    point.role,
    point.source,
    point.verdict,
    point.reasons,
    point.place.sourceIndex,
    point.place.line,
    point.positionRounding?.grid ?? null,
    point.positionRounding?.angleDeg ?? null,
    point.passThrough.length,
    ...point.passThrough,
  ],
  // Member by member: an object that is filled by names in a loop takes ten times as long to make.
  record(cell) {
    const passing = cell(35) as number;
    return {
      pointId: cell(0) as string,
      occupation: cell(1) as string,
      code: cell(2) as string,
      gridFirst: cell(3) as number | null,
      gridSecond: cell(4) as number | null,
      latitudeDeg: cell(5) as number | null,
      longitudeDeg: cell(6) as number | null,
      ellipsoidalHeightM: cell(7) as number | null,
      orthometricHeightM: cell(8) as number | null,
      geoidHeightM: cell(9) as number | null,
      baseId: cell(10) as string | null,
      baselineM: cell(11) as number | null,
      baselineAzimuthDeg: cell(12) as number | null,
      baselineHeightDifferenceM: cell(13) as number | null,
      firstEpochMs: cell(14) as number | null,
      lastEpochMs: cell(15) as number | null,
      sigmaEastM: cell(16) as number | null,
      sigmaNorthM: cell(17) as number | null,
      sigmaUpM: cell(18) as number | null,
      correlationEn: cell(19) as number | null,
      sigmaHorizontalM: cell(20) as number | null,
      sigmaVerticalM: cell(21) as number | null,
      combinedFactor: cell(22) as number | null,
      poleLengthM: cell(23) as number | null,
      tiltDeg: cell(24) as number | null,
      toleranceHorizontalM: cell(25) as number | null,
      toleranceVerticalM: cell(26) as number | null,
      role: cell(27) as ControlRole | null,
      source: cell(28) as string,
      verdict: cell(29) as string,
      reasons: cell(30) as string,
      ...roundingOf(cell),
      passThrough:
        passing === 0 ? NO_CELLS : Array.from({ length: passing }, (_, place) => cell(OWN_CELLS + place) as string),
      place: { sourceIndex: cell(31) as number, line: cell(32) as number },
    };
  },
};

function roundingOf(cell: CellOf): Pick<PointRow, 'positionRounding'> {
  const grid = cell(33) as number | null;
  return grid === null ? {} : { positionRounding: { grid, angleDeg: cell(34) as number } };
}

/** An empty list of the points of a file. */
export function createPackedPoints(): PackedRecords<PointRow> {
  return createPackedRecords(POINT_PACKING, TOGETHER);
}
