import type { LimitVerdict } from '../../core/quality/standards/limit-verdict.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { RecordList } from '../../records/record-list.js';
import { placePoint } from './compare/check-tolerances-place.js';
import type { BaseVector, CheckRow, CheckSetup, PlacedPoint } from './judge/check-tolerances-setup.js';
import { createPackedRecords, derivedList, recordAt } from '../reduce/packing/packed-records.js';
import type { CellOf, PackedCell } from '../reduce/packing/packed-records.js';

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

/** Packed together: a comparison has some three kilobytes until then. */
const TOGETHER = 128;
const NO_REASONS: readonly ProblemCode[] = Object.freeze([]);

/** A comparison, and where its points stand while it is not packed. */
interface Kept {
  readonly row: CheckRow;
  readonly points: { readonly measured: PointOfList; readonly known: PointOfList | null } | null;
}

/** Where cells of more than one begin: the measured point, the covariance, the vector, how many limits there are, and they, so many cells each. */
const MEASURED = 17;
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
  const kept = createPackedRecords<Kept>(
    {
      cells: cellsOf,
      record: (cell) => ({ row: viewOf(cell, setup), points: null }),
    },
    TOGETHER,
  );
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
  if (Object.getPrototypeOf(row) !== MEMBERS) return row.measured === null ? null : row.measured.row;
  const { cell } = row as CheckRow & PackedRow;
  const points = cell(MEASURED) as RecordList<PointRow> | undefined;
  return points === undefined ? null : recordAt(points, cell(MEASURED + 1) as number);
}

/** What a comparison that is packed is looked up by. */
interface PackedRow {
  readonly cell: CellOf;
  readonly setup: CheckSetup;
}

/** Its members, each looked up when it is asked for: a copy of the comparison by `...` would have none. */
const MEMBERS: CheckRow & ThisType<CheckRow & PackedRow> = {
  get check(): CheckRow['check'] {
    return this.cell(0) as CheckRow['check'];
  },

  get pointId(): CheckRow['pointId'] {
    return this.cell(1) as CheckRow['pointId'];
  },

  get occupation(): CheckRow['occupation'] {
    return this.cell(2) as CheckRow['occupation'];
  },

  get against(): CheckRow['against'] {
    return this.cell(3) as CheckRow['against'];
  },

  get firstM(): CheckRow['firstM'] {
    return this.cell(4) as CheckRow['firstM'];
  },

  get secondM(): CheckRow['secondM'] {
    return this.cell(5) as CheckRow['secondM'];
  },

  get upM(): CheckRow['upM'] {
    return this.cell(6) as CheckRow['upM'];
  },

  get heightKind(): CheckRow['heightKind'] {
    return this.cell(7) as CheckRow['heightKind'];
  },

  get alongM(): CheckRow['alongM'] {
    return this.cell(8) as CheckRow['alongM'];
  },

  get acrossM(): CheckRow['acrossM'] {
    return this.cell(9) as CheckRow['acrossM'];
  },

  get distanceM(): CheckRow['distanceM'] {
    return this.cell(10) as CheckRow['distanceM'];
  },

  get chainageM(): CheckRow['chainageM'] {
    return this.cell(11) as CheckRow['chainageM'];
  },

  get separationS(): CheckRow['separationS'] {
    return this.cell(12) as CheckRow['separationS'];
  },

  get horizontalStatistic(): CheckRow['horizontalStatistic'] {
    return this.cell(13) as CheckRow['horizontalStatistic'];
  },

  get verticalStatistic(): CheckRow['verticalStatistic'] {
    return this.cell(14) as CheckRow['verticalStatistic'];
  },

  get verdict(): CheckRow['verdict'] {
    return this.cell(15) as CheckRow['verdict'];
  },

  get reasons(): CheckRow['reasons'] {
    const text = this.cell(16) as string;
    return text === '' ? NO_REASONS : (text.split(';') as ProblemCode[]);
  },

  get measured(): PlacedPoint | null {
    return placedFrom(this, MEASURED);
  },

  get known(): PlacedPoint | null {
    return placedFrom(this, 19);
  },

  get covariance(): LocalCovariance | null {
    const figure = (place: number): number => this.cell(COVARIANCE + 1 + place) as number;
    return this.cell(COVARIANCE) === true
      ? { eeM2: figure(0), enM2: figure(1), euM2: figure(2), nnM2: figure(3), nuM2: figure(4), uuM2: figure(5) }
      : null;
  },

  get vector(): BaseVector | null {
    const figure = (place: number): number | null => this.cell(VECTOR + 1 + place) as number | null;
    return this.cell(VECTOR) === true
      ? { distanceM: figure(0), azimuthDeg: figure(1), heightDifferenceM: figure(2) }
      : null;
  },

  get limits(): CheckRow['limits'] {
    const count = this.cell(LIMITS) as number;
    const limits: LimitVerdict[] = [];
    for (let place = 0; place < count; place += 1) limits.push(limitAt(this.cell, LIMITS + 1 + place * LIMIT_CELLS));
    return limits;
  },
};

function viewOf(cell: CellOf, setup: CheckSetup): CheckRow {
  const view = Object.create(MEMBERS) as CheckRow & { cell: CellOf; setup: CheckSetup };
  view.cell = cell;
  view.setup = setup;
  return view;
}

function limitAt(cell: CellOf, from: number): LimitVerdict {
  return {
    limitName: cell(from) as string,
    axis: cell(from + 1) as LimitVerdict['axis'],
    probability: cell(from + 2) as number | null,
    valueM: cell(from + 3) as number,
    limitM: cell(from + 4) as number | null,
    marginM: cell(from + 5) as number | null,
    governedBy: cell(from + 6) as LimitVerdict['governedBy'],
    verdict: cell(from + 7) as LimitVerdict['verdict'],
  };
}

function placedFrom({ cell, setup }: PackedRow, from: number): PlacedPoint | null {
  const points = cell(from) as RecordList<PointRow> | undefined;
  return points === undefined ? null : placePoint(recordAt(points, cell(from + 1) as number), setup);
}
