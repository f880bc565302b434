import type { ControlRole, PointRow } from '../../records/points/point-row.js';
import { createFiledRecords } from './packing/filed-records.js';
import { cellAt } from './packing/packed-records.js';
import type { Pack, PackedRecords, Packing } from './packing/packed-records.js';

const NO_CELLS: readonly string[] = Object.freeze([]);

/** Cells of a point before those that pass through. */
const OWN_CELLS = 36;

/** A point whose members are looked up when they are asked for, since most who go through a file ask for one or two: a copy of it by `...` would have none. */
// eslint-disable-next-line no-restricted-syntax -- getters on one prototype: to make all members takes longer than what is asked of most points
class PackedPoint implements PointRow {
  readonly #pack: Pack;
  readonly #row: number;

  constructor(pack: Pack, row: number) {
    this.#pack = pack;
    this.#row = row;
  }

  get pointId(): PointRow['pointId'] {
    return cellAt(this.#pack, 0, this.#row) as string;
  }

  get occupation(): PointRow['occupation'] {
    return cellAt(this.#pack, 1, this.#row) as string;
  }

  get code(): PointRow['code'] {
    return cellAt(this.#pack, 2, this.#row) as string;
  }

  get gridFirst(): PointRow['gridFirst'] {
    return cellAt(this.#pack, 3, this.#row) as number | null;
  }

  get gridSecond(): PointRow['gridSecond'] {
    return cellAt(this.#pack, 4, this.#row) as number | null;
  }

  get latitudeDeg(): PointRow['latitudeDeg'] {
    return cellAt(this.#pack, 5, this.#row) as number | null;
  }

  get longitudeDeg(): PointRow['longitudeDeg'] {
    return cellAt(this.#pack, 6, this.#row) as number | null;
  }

  get ellipsoidalHeightM(): PointRow['ellipsoidalHeightM'] {
    return cellAt(this.#pack, 7, this.#row) as number | null;
  }

  get orthometricHeightM(): PointRow['orthometricHeightM'] {
    return cellAt(this.#pack, 8, this.#row) as number | null;
  }

  get geoidHeightM(): PointRow['geoidHeightM'] {
    return cellAt(this.#pack, 9, this.#row) as number | null;
  }

  get baseId(): PointRow['baseId'] {
    return cellAt(this.#pack, 10, this.#row) as string | null;
  }

  get baselineM(): PointRow['baselineM'] {
    return cellAt(this.#pack, 11, this.#row) as number | null;
  }

  get baselineAzimuthDeg(): PointRow['baselineAzimuthDeg'] {
    return cellAt(this.#pack, 12, this.#row) as number | null;
  }

  get baselineHeightDifferenceM(): PointRow['baselineHeightDifferenceM'] {
    return cellAt(this.#pack, 13, this.#row) as number | null;
  }

  get firstEpochMs(): PointRow['firstEpochMs'] {
    return cellAt(this.#pack, 14, this.#row) as number | null;
  }

  get lastEpochMs(): PointRow['lastEpochMs'] {
    return cellAt(this.#pack, 15, this.#row) as number | null;
  }

  get sigmaEastM(): PointRow['sigmaEastM'] {
    return cellAt(this.#pack, 16, this.#row) as number | null;
  }

  get sigmaNorthM(): PointRow['sigmaNorthM'] {
    return cellAt(this.#pack, 17, this.#row) as number | null;
  }

  get sigmaUpM(): PointRow['sigmaUpM'] {
    return cellAt(this.#pack, 18, this.#row) as number | null;
  }

  get correlationEn(): PointRow['correlationEn'] {
    return cellAt(this.#pack, 19, this.#row) as number | null;
  }

  get sigmaHorizontalM(): PointRow['sigmaHorizontalM'] {
    return cellAt(this.#pack, 20, this.#row) as number | null;
  }

  get sigmaVerticalM(): PointRow['sigmaVerticalM'] {
    return cellAt(this.#pack, 21, this.#row) as number | null;
  }

  get combinedFactor(): PointRow['combinedFactor'] {
    return cellAt(this.#pack, 22, this.#row) as number | null;
  }

  get poleLengthM(): PointRow['poleLengthM'] {
    return cellAt(this.#pack, 23, this.#row) as number | null;
  }

  get tiltDeg(): PointRow['tiltDeg'] {
    return cellAt(this.#pack, 24, this.#row) as number | null;
  }

  get toleranceHorizontalM(): PointRow['toleranceHorizontalM'] {
    return cellAt(this.#pack, 25, this.#row) as number | null;
  }

  get toleranceVerticalM(): PointRow['toleranceVerticalM'] {
    return cellAt(this.#pack, 26, this.#row) as number | null;
  }

  get role(): PointRow['role'] {
    return cellAt(this.#pack, 27, this.#row) as ControlRole | null;
  }

  get source(): PointRow['source'] {
    return cellAt(this.#pack, 28, this.#row) as string;
  }

  get verdict(): PointRow['verdict'] {
    return cellAt(this.#pack, 29, this.#row) as string;
  }

  get reasons(): PointRow['reasons'] {
    return cellAt(this.#pack, 30, this.#row) as string;
  }

  get positionRounding(): NonNullable<PointRow['positionRounding']> | undefined {
    const grid = cellAt(this.#pack, 33, this.#row) as number | null;
    return grid === null ? undefined : { grid, angleDeg: cellAt(this.#pack, 34, this.#row) as number };
  }

  get passThrough(): PointRow['passThrough'] {
    const passing = cellAt(this.#pack, 35, this.#row) as number;
    return passing === 0
      ? NO_CELLS
      : Array.from({ length: passing }, (_, place) => cellAt(this.#pack, OWN_CELLS + place, this.#row) as string);
  }

  get place(): PointRow['place'] {
    return {
      sourceIndex: cellAt(this.#pack, 31, this.#row) as number,
      line: cellAt(this.#pack, 32, this.#row) as number,
    };
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
  record: (pack, row) => new PackedPoint(pack, row),
};

/** An empty list of the points of a file. */
export function createPackedPoints(): PackedRecords<PointRow> {
  return createFiledRecords(POINT_PACKING);
}
