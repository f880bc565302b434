import { Buffer } from 'node:buffer';
import { InternalError } from '../../../records/internal-error.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import type { CarriedRow } from '../row-bytes/carried-row-write.js';
import type { Draft } from '../../../records/draft.js';

const THIRD = 2;
export const ELLIPSOIDAL: number = 3;
export const ORTHOMETRIC: number = 4;
/** Of each row: coordinates, then heights. Before it is read no height is known, and the third coordinate of what has two is 0. */
export const EMPTY_ROW: readonly number[] = [NaN, NaN, 0, NaN, NaN];
const SLOTS = EMPTY_ROW.length;
const NO_BYTES: Buffer = Buffer.alloc(0);

/** Rows that stay in the bytes of their block, found and read. */
export interface FoundRows {
  readonly bytes: Buffer;
  /** As many numbers of each row as `EMPTY_ROW` has. */
  readonly values: Float64Array;
  /** The spans of each row, one after another; see `CarriedRow`. */
  readonly spans: Int32Array;
}

/** The row in hand: one record, and what is copied of it, which serve for all rows of a table. Texts are made when they are asked for. */
export interface PlainPlaceRow {
  readonly place: PlaceRow;
  readonly carried: CarriedRow;
  /** Goes over to the rows of another block. */
  readonly enter: (found: FoundRows) => void;
  /** Says which block of the file that is. */
  readonly standIn: (block: CsvBlock) => void;
  /** Makes a row of the block the one in hand. */
  readonly lay: (index: number) => void;
}

/** A record of rows of so many spans; `enter` comes first. */
export function createPlainPlaceRow(spanCount: number, delimiter: string): PlainPlaceRow {
  const none = new Int32Array(0);
  const carried: Draft<CarriedRow> & { bytes: Buffer } = { bytes: NO_BYTES, spans: none, spansAt: 0, spanCount };
  let values: Float64Array = new Float64Array(0);
  let block: CsvBlock | null = null;
  let row = 0;
  const located = (): CsvBlock => {
    if (block === null) throw new InternalError('nobody said where the row stands');
    return block;
  };
  const text = (span: number): string => {
    const at = carried.spansAt + 2 * span;
    return carried.bytes.toString('latin1', carried.spans[at], carried.spans[at + 1]);
  };
  // Numbers begin with a part of one, so that the engine keeps the members as such.
  const place: Draft<PlaceRow> = {
    first: 0.5,
    second: 0.5,
    third: 0.5,
    ellipsoidalHeightM: null,
    orthometricHeightM: null,
    get pointId() {
      return text(0);
    },
    get passThrough() {
      return Array.from({ length: spanCount - 1 }, (_, span) => text(span + 1).split(delimiter)).flat();
    },
    get line() {
      return located().lineOf(row);
    },
    get record() {
      return located().firstRecord + row;
    },
  };
  return {
    place,
    carried,
    enter(next) {
      values = next.values;
      block = null;
      carried.bytes = next.bytes;
      carried.spans = next.spans;
    },
    standIn(next) {
      block = next;
    },
    lay(index) {
      const base = index * SLOTS;
      const ellipsoidal = values[base + ELLIPSOIDAL] as number;
      const orthometric = values[base + ORTHOMETRIC] as number;
      place.first = values[base] as number;
      place.second = values[base + 1] as number;
      place.third = values[base + THIRD] as number;
      place.ellipsoidalHeightM = Number.isNaN(ellipsoidal) ? null : ellipsoidal;
      place.orthometricHeightM = Number.isNaN(orthometric) ? null : orthometric;
      carried.spansAt = index * 2 * spanCount;
      row = index;
    },
  };
}
