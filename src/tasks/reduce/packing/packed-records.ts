import { InternalError } from '../../../records/internal-error.js';
import type { RecordList } from '../../../records/record-list.js';

/** What a cell of a packed record may be. A number is never NaN: that stands for null. */
export type PackedCell = number | string | boolean | object | null | undefined;

/** The cell of a place in a record. */
export type CellOf = (place: number) => PackedCell;

/** How a record is laid out in cells, and made of them again. Records of one kind may have more cells than others, at the end. */
export interface Packing<T> {
  readonly cells: (record: T) => readonly PackedCell[];
  /** `cell` gives the cells by their places, at once or when a member of the record is asked for. */
  readonly record: (cell: CellOf) => T;
}

/** Records packed together: enough that what a column costs by itself does not count, few enough to be loose meanwhile. */
export const PACK = 1024;

/** One cell of all records of a pack. */
interface PackedColumn {
  /** Of every record, where the other two are null. */
  readonly same: PackedCell;
  readonly numbers: Float64Array | null;
  readonly others: readonly PackedCell[] | null;
}

/** Records that are added and never changed. */
export interface PackedRecords<T> extends RecordList<T> {
  push(record: T): void;
}

/**
 * A list that keeps its records cell by cell, a thousand together: a cell that is the same in all of them once, numbers in eight
 * bytes each, texts that are alike once. An object of twenty fields takes some four hundred bytes; packed it takes what differs.
 * A record that is asked for is made anew.
 */
export function createPackedRecords<T>(packing: Packing<T>): PackedRecords<T> {
  const packs: (readonly PackedColumn[])[] = [];
  let loose: T[] = [];
  const at = (index: number): T | undefined => {
    const pack = packs[Math.floor(index / PACK)];
    const place = index % PACK;
    return pack === undefined || index < 0
      ? loose[index - packs.length * PACK]
      : packing.record((cell) => cellAt(pack[cell], place));
  };
  return {
    get length() {
      return packs.length * PACK + loose.length;
    },
    at,
    push(record) {
      loose.push(record);
      if (loose.length < PACK) return;
      packs.push(packed(loose.map(packing.cells)));
      loose = [];
    },
    *[Symbol.iterator]() {
      const count = packs.length * PACK + loose.length;
      for (let index = 0; index < count; index += 1) yield at(index) as T;
    },
  };
}

/** A list that makes each of its records when it is asked for. */
export function listOf<T>(length: number, make: (index: number) => T): RecordList<T> {
  return {
    length,
    at: (index) => (index >= 0 && index < length ? make(index) : undefined),
    *[Symbol.iterator]() {
      for (let index = 0; index < length; index += 1) yield make(index);
    },
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

function packed(rows: readonly (readonly PackedCell[])[]): readonly PackedColumn[] {
  const width = rows.reduce((most, cells) => Math.max(most, cells.length), 0);
  return Array.from({ length: width }, (_, place) => columnOf(rows.map((cells) => cells[place])));
}

function columnOf(cells: readonly PackedCell[]): PackedColumn {
  const same = cells[0];
  if (cells.every((cell) => Object.is(cell, same))) return { same, numbers: null, others: null };
  if (cells.every((cell) => typeof cell === 'number' || cell === null))
    return { same: null, numbers: Float64Array.from(cells, (cell) => cell ?? Number.NaN), others: null };
  const alike = new Map<string, string>();
  for (const cell of cells) if (typeof cell === 'string' && !alike.has(cell)) alike.set(cell, cell);
  return {
    same: null,
    numbers: null,
    others: cells.map((cell) => (typeof cell === 'string' ? alike.get(cell) : cell)),
  };
}

function cellAt(column: PackedColumn | undefined, place: number): PackedCell {
  if (column === undefined) return undefined;
  const { same, numbers, others } = column;
  if (numbers !== null) {
    const value = numbers[place] as number;
    return Number.isNaN(value) ? null : value;
  }
  return others === null ? same : others[place];
}
