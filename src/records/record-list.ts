/**
 * Records in order, each asked for by its place: an array is one. A list that is not an array may make a record anew each time
 * it is asked, so that two of the same place are equal and not identical. Places count from 0; from the end none is asked for.
 */
export interface RecordList<T> extends Iterable<T> {
  readonly length: number;
  readonly at: (index: number) => T | undefined;
}
