import type { LimitVerdict } from '../../core/quality/standards/limit-verdict.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { RecordList } from '../../records/record-list.js';
import { placePoint } from './compare/check-tolerances-place.js';
import type { BaseVector, CheckRow, CheckSetup, PlacedPoint } from './judge/check-tolerances-setup.js';
import { createFiledRecords } from '../reduce/packing/filed-records.js';
import { cellAt, derivedList, recordAt } from '../reduce/packing/packed-records.js';
import type { Pack, PackedCell } from '../reduce/packing/packed-records.js';

/** A point of a comparison: which of which list. */
export interface PointOfList {
  readonly points: RecordList<PointRow>;
  readonly index: number;
}

/** The comparisons of a run as they are made. */
export interface CheckRows {
  /** Those added so far. */
  readonly rows: RecordList<CheckRow>;
  /** Adds a comparison; `measured` and `known` say where its two points stand, from which they are placed again when they are asked for. */
  readonly push: (row: CheckRow, measured: PointOfList, known: PointOfList | null) => void;
}

const NO_REASONS: readonly ProblemCode[] = Object.freeze([]);

/** A comparison, and where its points stand until it is packed. */
interface Kept {
  readonly row: CheckRow;
  readonly points: { readonly measured: PointOfList; readonly known: PointOfList | null } | null;
}

/** Where cells of more than one begin: the measured point, the covariance, the vector, how many limits there are, and they, so many cells each. */
const MEASURED = 17;
const KNOWN = 19;
const COVARIANCE = 21;
const VECTOR = COVARIANCE + 7;
const LIMITS = VECTOR + 4;
const LIMIT_CELLS = 8;

/**
 * An empty list of comparisons that keeps their figures cell by cell, and of their points only which they are: placing a point
 * again gives what it gave before.
 *
 * Given: the setup that the points are placed by. Returned: see `CheckRows`.
 */
export function createCheckRows(setup: CheckSetup): CheckRows {
  const kept = createFiledRecords<Kept>({
    cells: cellsOf,
    record: (pack, at) => ({ row: new PackedRow(pack, at, setup), points: null }),
  });
  return {
    get rows() {
      return derivedList(kept, ({ row }) => row);
    },
    push(row, measured, known) {
      kept.push({ row, points: { measured, known } });
    },
  };
}

function cellsOf({ row, points }: Kept): readonly PackedCell[] {
  const { covariance, vector, limits } = row;
  const cells: PackedCell[] = [
    row.check,
    row.pointId,
    row.occupation,
    row.against,
    row.firstM,
    row.secondM,
    row.upM,
    row.heightKind,
    row.alongM,
    row.acrossM,
    row.distanceM,
    row.chainageM,
    row.separationS,
    row.horizontalStatistic,
    row.verticalStatistic,
    row.verdict,
    row.reasons.join(';'),
    points?.measured.points,
    points?.measured.index,
    points?.known?.points,
    points?.known?.index ?? null,
    covariance !== null,
    covariance?.eeM2 ?? null,
    covariance?.enM2 ?? null,
    covariance?.euM2 ?? null,
    covariance?.nnM2 ?? null,
    covariance?.nuM2 ?? null,
    covariance?.uuM2 ?? null,
    vector !== null,
    vector?.distanceM ?? null,
    vector?.azimuthDeg ?? null,
    vector?.heightDifferenceM ?? null,
    limits.length,
  ];
  for (const { limitName, axis, probability, valueM, limitM, marginM, governedBy, verdict } of limits)
    cells.push(limitName, axis, probability, valueM, limitM, marginM, governedBy, verdict);
  return cells;
}

/** The measured point of a comparison as it was read, without placing it again; null where there is none. */
export function measuredPoint(row: CheckRow): PointRow | null {
  if (row instanceof PackedRow) return row.measuredRow();
  return row.measured === null ? null : row.measured.row;
}

/** A comparison whose members are looked up when they are asked for: a copy of it by `...` would have none. */
// eslint-disable-next-line no-restricted-syntax -- getters on one prototype: to make all members takes longer than what is asked of most comparisons
class PackedRow implements CheckRow {
  readonly #pack: Pack;
  readonly #at: number;
  readonly #setup: CheckSetup;
  #limits: CheckRow['limits'] | null = null;

  constructor(pack: Pack, at: number, setup: CheckSetup) {
    this.#pack = pack;
    this.#at = at;
    this.#setup = setup;
  }

  measuredRow(): PointRow | null {
    return pointAt(this.#pack, MEASURED, this.#at);
  }

  get check(): CheckRow['check'] {
    return cellAt(this.#pack, 0, this.#at) as CheckRow['check'];
  }

  get pointId(): CheckRow['pointId'] {
    return cellAt(this.#pack, 1, this.#at) as CheckRow['pointId'];
  }

  get occupation(): CheckRow['occupation'] {
    return cellAt(this.#pack, 2, this.#at) as CheckRow['occupation'];
  }

  get against(): CheckRow['against'] {
    return cellAt(this.#pack, 3, this.#at) as CheckRow['against'];
  }

  get firstM(): CheckRow['firstM'] {
    return cellAt(this.#pack, 4, this.#at) as CheckRow['firstM'];
  }

  get secondM(): CheckRow['secondM'] {
    return cellAt(this.#pack, 5, this.#at) as CheckRow['secondM'];
  }

  get upM(): CheckRow['upM'] {
    return cellAt(this.#pack, 6, this.#at) as CheckRow['upM'];
  }

  get heightKind(): CheckRow['heightKind'] {
    return cellAt(this.#pack, 7, this.#at) as CheckRow['heightKind'];
  }

  get alongM(): CheckRow['alongM'] {
    return cellAt(this.#pack, 8, this.#at) as CheckRow['alongM'];
  }

  get acrossM(): CheckRow['acrossM'] {
    return cellAt(this.#pack, 9, this.#at) as CheckRow['acrossM'];
  }

  get distanceM(): CheckRow['distanceM'] {
    return cellAt(this.#pack, 10, this.#at) as CheckRow['distanceM'];
  }

  get chainageM(): CheckRow['chainageM'] {
    return cellAt(this.#pack, 11, this.#at) as CheckRow['chainageM'];
  }

  get separationS(): CheckRow['separationS'] {
    return cellAt(this.#pack, 12, this.#at) as CheckRow['separationS'];
  }

  get horizontalStatistic(): CheckRow['horizontalStatistic'] {
    return cellAt(this.#pack, 13, this.#at) as CheckRow['horizontalStatistic'];
  }

  get verticalStatistic(): CheckRow['verticalStatistic'] {
    return cellAt(this.#pack, 14, this.#at) as CheckRow['verticalStatistic'];
  }

  get verdict(): CheckRow['verdict'] {
    return cellAt(this.#pack, 15, this.#at) as CheckRow['verdict'];
  }

  get reasons(): CheckRow['reasons'] {
    const text = cellAt(this.#pack, 16, this.#at) as string;
    return text === '' ? NO_REASONS : (text.split(';') as ProblemCode[]);
  }

  get measured(): PlacedPoint | null {
    const point = pointAt(this.#pack, MEASURED, this.#at);
    return point === null ? null : placePoint(point, this.#setup);
  }

  get known(): PlacedPoint | null {
    const point = pointAt(this.#pack, KNOWN, this.#at);
    return point === null ? null : placePoint(point, this.#setup);
  }

  get covariance(): LocalCovariance | null {
    const figure = (place: number): number => cellAt(this.#pack, COVARIANCE + 1 + place, this.#at) as number;
    return cellAt(this.#pack, COVARIANCE, this.#at) === true
      ? { eeM2: figure(0), enM2: figure(1), euM2: figure(2), nnM2: figure(3), nuM2: figure(4), uuM2: figure(5) }
      : null;
  }

  get vector(): BaseVector | null {
    const figure = (place: number): number | null => cellAt(this.#pack, VECTOR + 1 + place, this.#at) as number | null;
    return cellAt(this.#pack, VECTOR, this.#at) === true
      ? { distanceM: figure(0), azimuthDeg: figure(1), heightDifferenceM: figure(2) }
      : null;
  }

  get limits(): CheckRow['limits'] {
    return (this.#limits ??= limitsAt(this.#pack, this.#at));
  }
}

function limitsAt(pack: Pack, at: number): CheckRow['limits'] {
  const count = cellAt(pack, LIMITS, at) as number;
  const limits: LimitVerdict[] = [];
  for (let place = 0; place < count; place += 1) limits.push(limitAt(pack, LIMITS + 1 + place * LIMIT_CELLS, at));
  return limits;
}

function limitAt(pack: Pack, from: number, at: number): LimitVerdict {
  return {
    limitName: cellAt(pack, from, at) as string,
    axis: cellAt(pack, from + 1, at) as LimitVerdict['axis'],
    probability: cellAt(pack, from + 2, at) as number | null,
    valueM: cellAt(pack, from + 3, at) as number,
    limitM: cellAt(pack, from + 4, at) as number | null,
    marginM: cellAt(pack, from + 5, at) as number | null,
    governedBy: cellAt(pack, from + 6, at) as LimitVerdict['governedBy'],
    verdict: cellAt(pack, from + 7, at) as LimitVerdict['verdict'],
  };
}

/** A point whose list and place in it stand in two cells; null where there is none. */
function pointAt(pack: Pack, from: number, at: number): PointRow | null {
  const points = cellAt(pack, from, at) as RecordList<PointRow> | undefined;
  return points === undefined ? null : recordAt(points, cellAt(pack, from + 1, at) as number);
}
