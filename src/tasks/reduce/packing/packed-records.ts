import { InternalError } from '../../../records/internal-error.js';
import type { RecordList } from '../../../records/record-list.js';

/** What a cell of a packed record may be. A number is never NaN: that stands for null. */
export type PackedCell = number | string | boolean | object | null | undefined;

/** How a record is laid out in cells, and made of them again. Records of one kind may have more cells than others, at the end. */
export interface Packing<T> {
  readonly cells: (record: T) => readonly PackedCell[];
  /** `cellAt` gives the cells of the record by their places, at once or when a member of it is asked for. */
  readonly record: (pack: Pack, row: number) => T;
}

/** Records packed together: enough that what a column costs by itself does not count, few enough to be loose meanwhile. */
export const PACK = 1024;

/** One cell of all records of a pack. */
export interface PackedColumn {
  /** Of every record, where it has neither numbers nor a list of its own. */
  readonly same: PackedCell;
  /** Its numbers, NaN for null, and where they begin. */
  readonly numbers: Float64Array | null;
  readonly from: number;
  readonly others: readonly PackedCell[] | null;
}

/** So many records, cell by cell. */
export interface Pack {
  readonly columns: readonly PackedColumn[];
}

/** Records that are added and never changed. */
export interface PackedRecords<T> extends RecordList<T> {
  push(record: T): void;
}

/**
 * A list that keeps its records cell by cell, a thousand together: a cell that is the same in all of them once, numbers in eight
 * bytes each, texts that are alike once. An object of twenty fields takes some four hundred bytes; packed it takes what differs.
 * A record that is asked for is made anew. `size`: how many are packed together; what is loose until then should not outlive the nursery.
 */
export function createPackedRecords<T>(packing: Packing<T>, size: number = PACK): PackedRecords<T> {
  const packs: Pack[] = [];
  let loose: T[] = [];
  const at = (index: number): T | undefined => {
    const pack = packs[Math.floor(index / size)];
    const place = index % size;
    return pack === undefined || index < 0 ? loose[index - packs.length * size] : packing.record(pack, place);
  };
  return {
    get length() {
      return packs.length * size + loose.length;
    },
    at,
    push(record) {
      loose.push(record);
      if (loose.length < size) return;
      packs.push(packed(loose.map(packing.cells)));
      loose = [];
    },
    [Symbol.iterator]: () => inOrder(packs.length * size + loose.length, at as (index: number) => T),
  };
}

/** The records of a list one after another; a generator takes several times as long for each. */
export function inOrder<T>(length: number, at: (index: number) => T): IterableIterator<T> {
  let index = 0;
  const steps: IterableIterator<T> = {
    next() {
      if (index >= length) return { done: true, value: undefined };
      index += 1;
      return { done: false, value: at(index - 1) };
    },
    [Symbol.iterator]: () => steps,
  };
  return steps;
}

/** A list that makes each of its records when it is asked for. */
export function listOf<T>(length: number, make: (index: number) => T): RecordList<T> {
  return {
    length,
    at: (index) => (index >= 0 && index < length ? make(index) : undefined),
    [Symbol.iterator]: () => inOrder(length, make),
  };
}

/** What `make` gives for each record of a list: kept where the list is an array, made anew at each asking where it is not. */
export function derivedList<S, T>(over: RecordList<S>, make: (record: S, index: number) => T): RecordList<T> {
  return Array.isArray(over)
    ? (over as readonly S[]).map(make)
    : listOf(over.length, (index) => make(recordAt(over, index), index));
}

/** Those records of a list whose places are given, kept or made anew as those of `derivedList` are. */
export function pickedList<T>(over: RecordList<T>, places: ArrayLike<number>): RecordList<T> {
  const at = (index: number): T => recordAt(over, places[index] as number);
  return Array.isArray(over) ? Array.from(places, (_, index) => at(index)) : listOf(places.length, at);
}

/** The records of several lists, one list after another. */
export function joinedList<T>(lists: readonly RecordList<T>[]): RecordList<T> {
  const [only] = lists;
  if (only !== undefined && lists.length === 1) return only;
  return {
    length: lists.reduce((sum, { length }) => sum + length, 0),
    at(index) {
      if (index < 0) return undefined;
      let from = 0;
      for (const list of lists) {
        if (index < from + list.length) return list.at(index - from);
        from += list.length;
      }
      return undefined;
    },
    *[Symbol.iterator]() {
      for (const list of lists) yield* list;
    },
  };
}

/** The record of a place that is known to be in the list. */
export function recordAt<T>(list: RecordList<T>, index: number): T {
  const record = list.at(index);
  if (record === undefined) throw new InternalError('a record beyond the end of its list');
  return record;
}

/** The columns of numbers stand in one array, since each array has a price of its own. */
function packed(rows: readonly (readonly PackedCell[])[]): Pack {
  const width = rows.reduce((most, cells) => Math.max(most, cells.length), 0);
  const kinds = Array.from({ length: width }, (_, place) => kindOf(rows, place));
  const numbers = new Float64Array(kinds.filter((kind) => kind === 'numbers').length * rows.length);
  let from = 0;
  const columns = kinds.map((kind, place): PackedColumn => {
    if (kind === 'same') return { same: rows[0]?.[place], numbers: null, from: 0, others: null };
    if (kind === 'others') return { same: null, numbers: null, from: 0, others: textsOnce(rows, place) };
    const own = from;
    for (let row = 0; row < rows.length; row += 1) {
      const cell = (rows[row] as readonly PackedCell[])[place];
      numbers[own + row] = cell === null ? Number.NaN : (cell as number);
    }
    from += rows.length;
    return { same: null, numbers, from: own, others: null };
  });
  return { columns };
}

function kindOf(rows: readonly (readonly PackedCell[])[], place: number): 'same' | 'numbers' | 'others' {
  const first = rows[0]?.[place];
  let [isSame, isNumber] = [true, true];
  for (const cells of rows) {
    const cell = cells[place];
    if (isSame && !Object.is(cell, first)) isSame = false;
    if (isNumber && typeof cell !== 'number' && cell !== null) isNumber = false;
    if (!isSame && !isNumber) return 'others';
  }
  return isSame ? 'same' : 'numbers';
}

/** The cells of a column, texts that are alike once. */
function textsOnce(rows: readonly (readonly PackedCell[])[], place: number): readonly PackedCell[] {
  const alike = new Map<string, string>();
  return rows.map((cells) => {
    const cell = cells[place];
    if (typeof cell !== 'string') return cell;
    const known = alike.get(cell);
    if (known !== undefined) return known;
    alike.set(cell, cell);
    return cell;
  });
}

/** The cell of a place in a record of a pack. */
export function cellAt({ columns }: Pack, place: number, row: number): PackedCell {
  const column = columns[place];
  if (column === undefined) return undefined;
  const { same, numbers, from, others } = column;
  if (numbers !== null) {
    const value = numbers[from + row] as number;
    return Number.isNaN(value) ? null : value;
  }
  return others === null ? same : others[row];
}
