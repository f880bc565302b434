import { cellAt, inOrder, PACK } from './packed-records.js';
import type { Pack, PackedCell, PackedColumn, PackedRecords, Packing } from './packed-records.js';

/** So few records are kept as they are. */
const LOOSE = 128;
/** Room for numbers at first; it doubles up to a pack. */
const FIRST_ROOM = 16;
/** Texts of a column that are looked up to be kept once; more of them, and they are names. */
const MOST_ALIKE = 32;

/**
 * A list that keeps its records cell by cell, a thousand together, from the moment that they are added, as soon as there are as many as
 * `most`: none of them outlives the nursery then. A cell that is the same in all of a pack is kept once, numbers in eight bytes each, texts
 * that are alike once. An object of twenty fields takes some four hundred bytes; filed it takes what differs. A record that is asked for is
 * made anew.
 */
export function createFiledRecords<T>(packing: Packing<T>, most: number = LOOSE): PackedRecords<T> {
  const packs: Pack[] = [];
  let loose: T[] | null = most === 0 ? null : [];
  let filing = createFiling();
  let length = 0;
  const recordOf = (index: number): T =>
    loose === null ? packing.record(packs[Math.floor(index / PACK)] ?? filing.pack, index % PACK) : (loose[index] as T);
  function file(record: T): void {
    filing.add(packing.cells(record));
    if (filing.rows() < PACK) return;
    packs.push(filing.pack);
    filing = createFiling();
  }
  return {
    get length() {
      return length;
    },
    at: (index) => (index >= 0 && index < length ? recordOf(index) : undefined),
    push(record) {
      length += 1;
      if (loose === null) {
        file(record);
        return;
      }
      loose.push(record);
      if (length < most) return;
      for (const waiting of loose) file(waiting);
      loose = null;
    },
    [Symbol.iterator]: () => inOrder(length, recordOf),
  };
}

/** A pack that is being filled. Its columns change as it is; what was filed can be looked up all the while. */
interface Filing {
  readonly pack: Pack;
  readonly rows: () => number;
  readonly add: (cells: readonly PackedCell[]) => void;
}

/** A column while it is being filled. */
interface OpenColumn extends PackedColumn {
  same: PackedCell;
  numbers: Float64Array | null;
  others: PackedCell[] | null;
  /** Texts that were met, to be kept once; null: none yet, or too many. */
  alike: Map<string, string> | null;
  isOfNames: boolean;
}

function createFiling(): Filing {
  const columns: OpenColumn[] = [];
  let rows = 0;
  return {
    pack: { columns },
    rows: () => rows,
    add(cells) {
      // What a longer record has more, the earlier ones do not have.
      while (columns.length < cells.length)
        columns.push({
          same: rows === 0 ? cells[columns.length] : undefined,
          numbers: null,
          others: null,
          alike: null,
          isOfNames: false,
        });
      for (let place = 0; place < columns.length; place += 1) put(columns[place] as OpenColumn, rows, cells[place]);
      rows += 1;
    },
  };
}

function put(column: OpenColumn, row: number, cell: PackedCell): void {
  const { numbers, others } = column;
  if (others !== null) others.push(keptOnce(column, cell));
  else if (numbers !== null) putNumber(column, numbers, row, cell);
  else if (!Object.is(cell, column.same)) putAnother(column, row, cell);
}

/** A cell of a column that is no longer the same in all records. */
function putAnother(column: OpenColumn, row: number, cell: PackedCell): void {
  const { same } = column;
  if (isNumber(same) && isNumber(cell)) {
    const numbers = new Float64Array(roomFor(row)).fill(same ?? Number.NaN, 0, row);
    column.numbers = numbers;
    numbers[row] = cell ?? Number.NaN;
    return;
  }
  column.others = new Array<PackedCell>(row).fill(same);
  column.others.push(keptOnce(column, cell));
}

function putNumber(column: OpenColumn, numbers: Float64Array, row: number, cell: PackedCell): void {
  if (!isNumber(cell)) {
    column.others = Array.from({ length: row }, (_, at) => cellAt({ columns: [column] }, 0, at));
    column.numbers = null;
    column.others.push(keptOnce(column, cell));
    return;
  }
  let room = numbers;
  if (row === room.length) {
    room = new Float64Array(roomFor(row));
    room.set(numbers);
    column.numbers = room;
  }
  room[row] = cell ?? Number.NaN;
}

function isNumber(cell: PackedCell): cell is number | null {
  return typeof cell === 'number' || cell === null;
}

function roomFor(row: number): number {
  let room = FIRST_ROOM;
  while (room <= row) room *= 2;
  return Math.min(room, PACK);
}

function keptOnce(column: OpenColumn, cell: PackedCell): PackedCell {
  if (column.isOfNames || typeof cell !== 'string') return cell;
  const alike = (column.alike ??= new Map<string, string>());
  const known = alike.get(cell);
  if (known !== undefined) return known;
  alike.set(cell, cell);
  if (alike.size > MOST_ALIKE) {
    column.alike = null;
    column.isOfNames = true;
  }
  return cell;
}
