import type { RecordList } from '../../records/record-list.js';
import { pickedList } from './packing/packed-records.js';

/** Whether any record passes the test. */
export function anyOf<T>(records: Iterable<T>, test: (record: T) => boolean): boolean {
  for (const record of records) if (test(record)) return true;
  return false;
}

/** How many records pass the test. */
export function countOf<T>(records: Iterable<T>, test: (record: T) => boolean): number {
  let count = 0;
  for (const record of records) if (test(record)) count += 1;
  return count;
}

/** The records of a list that pass the test, in their order: their places are kept, and they are made when they are asked for. */
export function listWhere<T>(list: RecordList<T>, test: (record: T) => boolean): RecordList<T> {
  const places: number[] = [];
  let index = 0;
  for (const record of list) {
    if (test(record)) places.push(index);
    index += 1;
  }
  return pickedList(list, places);
}
