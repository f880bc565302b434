import type { ControlRole, PointRow } from '../../records/points/point-row.js';
import { createPackedRecords } from './packing/packed-records.js';
import type { CellOf, PackedRecords, Packing } from './packing/packed-records.js';

const NO_CELLS: readonly string[] = Object.freeze([]);

/** Packed together: so few are loose that they do not outlive the nursery. */
const TOGETHER = 128;

/** Cells of a point before those that pass through. */
const OWN_CELLS = 36;

/** A point whose members are looked up when they are asked for, since most who go through a file ask for one or two: a copy of it by `...` would have none. */
// eslint-disable-next-line no-restricted-syntax -- getters on one prototype: to make all members takes longer than what is asked of most points
class PackedPoint implements PointRow {
  readonly #cell: CellOf;

  constructor(cell: CellOf) {
    this.#cell = cell;
  }

  get pointId(): PointRow['pointId'] {
    return this.#cell(0) as string;
  }

  get occupation(): PointRow['occupation'] {
    return this.#cell(1) as string;
  }

  get code(): PointRow['code'] {
    return this.#cell(2) as string;
  }

  get gridFirst(): PointRow['gridFirst'] {
    return this.#cell(3) as number | null;
  }

  get gridSecond(): PointRow['gridSecond'] {
    return this.#cell(4) as number | null;
  }

  get latitudeDeg(): PointRow['latitudeDeg'] {
    return this.#cell(5) as number | null;
  }

  get longitudeDeg(): PointRow['longitudeDeg'] {
    return this.#cell(6) as number | null;
  }

  get ellipsoidalHeightM(): PointRow['ellipsoidalHeightM'] {
    return this.#cell(7) as number | null;
  }

  get orthometricHeightM(): PointRow['orthometricHeightM'] {
    return this.#cell(8) as number | null;
  }

  get geoidHeightM(): PointRow['geoidHeightM'] {
    return this.#cell(9) as number | null;
  }

  get baseId(): PointRow['baseId'] {
    return this.#cell(10) as string | null;
  }

  get baselineM(): PointRow['baselineM'] {
    return this.#cell(11) as number | null;
  }

  get baselineAzimuthDeg(): PointRow['baselineAzimuthDeg'] {
    return this.#cell(12) as number | null;
  }

  get baselineHeightDifferenceM(): PointRow['baselineHeightDifferenceM'] {
    return this.#cell(13) as number | null;
  }

  get firstEpochMs(): PointRow['firstEpochMs'] {
    return this.#cell(14) as number | null;
  }

  get lastEpochMs(): PointRow['lastEpochMs'] {
    return this.#cell(15) as number | null;
  }

  get sigmaEastM(): PointRow['sigmaEastM'] {
    return this.#cell(16) as number | null;
  }

  get sigmaNorthM(): PointRow['sigmaNorthM'] {
    return this.#cell(17) as number | null;
  }

  get sigmaUpM(): PointRow['sigmaUpM'] {
    return this.#cell(18) as number | null;
  }

  get correlationEn(): PointRow['correlationEn'] {
    return this.#cell(19) as number | null;
  }

  get sigmaHorizontalM(): PointRow['sigmaHorizontalM'] {
    return this.#cell(20) as number | null;
  }

  get sigmaVerticalM(): PointRow['sigmaVerticalM'] {
    return this.#cell(21) as number | null;
  }

  get combinedFactor(): PointRow['combinedFactor'] {
    return this.#cell(22) as number | null;
  }

  get poleLengthM(): PointRow['poleLengthM'] {
    return this.#cell(23) as number | null;
  }

  get tiltDeg(): PointRow['tiltDeg'] {
    return this.#cell(24) as number | null;
  }

  get toleranceHorizontalM(): PointRow['toleranceHorizontalM'] {
    return this.#cell(25) as number | null;
  }

  get toleranceVerticalM(): PointRow['toleranceVerticalM'] {
    return this.#cell(26) as number | null;
  }

  get role(): PointRow['role'] {
    return this.#cell(27) as ControlRole | null;
  }

  get source(): PointRow['source'] {
    return this.#cell(28) as string;
  }

  get verdict(): PointRow['verdict'] {
    return this.#cell(29) as string;
  }

  get reasons(): PointRow['reasons'] {
    return this.#cell(30) as string;
  }

  get positionRounding(): NonNullable<PointRow['positionRounding']> | undefined {
    const grid = this.#cell(33) as number | null;
    return grid === null ? undefined : { grid, angleDeg: this.#cell(34) as number };
  }

  get passThrough(): PointRow['passThrough'] {
    const passing = this.#cell(35) as number;
    return passing === 0
      ? NO_CELLS
      : Array.from({ length: passing }, (_, place) => this.#cell(OWN_CELLS + place) as string);
  }

  get place(): PointRow['place'] {
    return { sourceIndex: this.#cell(31) as number, line: this.#cell(32) as number };
  }
}

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
  record: (cell) => new PackedPoint(cell),
};

/** An empty list of the points of a file. */
export function createPackedPoints(): PackedRecords<PointRow> {
  return createPackedRecords(POINT_PACKING, TOGETHER);
}
