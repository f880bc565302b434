import { entryAt } from '../../../records/present.js';
import { cellOrder } from './natural-order.js';

/** Bytes that a row held for sorting takes beside its text. */
const BYTES_A_ROW = 200;
/** Bytes that a character may take. */
const BYTES_A_CHARACTER = 2;

/** Rows held until all are known, to be sorted: equal ones stay in their order. */
export interface HeldRows {
  readonly add: (text: string, keys: readonly string[]) => void;
  /** About what they take. */
  readonly bytes: () => number;
  readonly sorted: () => readonly string[];
}

/** Given: which of the keys are to fall. */
export function createHeldRows(keys: readonly { readonly isDescending: boolean }[]): HeldRows {
  const rows: { readonly text: string; readonly keys: readonly string[] }[] = [];
  let bytes = 0;
  return {
    add(text, own) {
      rows.push({ text, keys: own });
      bytes += BYTES_A_ROW + BYTES_A_CHARACTER * text.length;
    },
    bytes: () => bytes,
    sorted() {
      const orders = keys.map(({ isDescending }, at) =>
        cellOrder(
          rows.map((row) => entryAt(row.keys, at)),
          isDescending,
        ),
      );
      return rows
        .sort((a, b) => {
          for (const [at, order] of orders.entries()) {
            const found = order(entryAt(a.keys, at), entryAt(b.keys, at));
            if (found !== 0) return found;
          }
          return 0;
        })
        .map(({ text }) => text);
    },
  };
}
