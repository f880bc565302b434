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

/** Records packed together: enough that what a column costs by itself does not count. */
export const PACK = 1024;

/** One cell of all records of a pack. */
export interface PackedColumn {
  /** Of every record, where it has neither numbers nor a list of its own. */
  readonly same: PackedCell;
  /** Its numbers, NaN for null. */
  readonly numbers: Float64Array | null;
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

/** The cell of a place in a record of a pack. */
export function cellAt({ columns }: Pack, place: number, row: number): PackedCell {
  const column = columns[place];
  if (column === undefined) return undefined;
  const { same, numbers, others } = column;
  if (numbers !== null) {
    const value = numbers[row] as number;
    return Number.isNaN(value) ? null : value;
  }
  return others === null ? same : others[row];
}
