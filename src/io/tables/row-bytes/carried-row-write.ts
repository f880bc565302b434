import { Buffer } from 'node:buffer';
import { digitRoom, MOST_FIXED_BYTES, writeFixedCells } from '../../text/write-digits.js';
import { writeText } from '../../text/write-text.js';
import type { WrittenColumn } from '../columns/cells/cell-text.js';
import type { ColumnKind } from '../columns/column.js';
import { AS_GIVEN } from '../columns/cells/decimals.js';
import { createNumberTaker, MOST_NUMBERS } from '../columns/cells/value-takers.js';

/** A row of the input, as far as it goes over into the output as it stands. */
export interface CarriedRow {
  readonly bytes: Uint8Array;
  /** Where its spans begin and end among the bytes, from `spansAt` on: the identifier, then cells that follow the own columns. */
  readonly spans: Int32Array;
  readonly spansAt: number;
  readonly spanCount: number;
}

/** Gathers rows as bytes. */
export interface CarriedRowWriter<Of> {
  readonly add: (of: Of, carried: CarriedRow) => void;
  /** Rows written by other means. */
  readonly addText: (text: string) => void;
  /** Hands over what waits; it stays as it is until the next row is added. */
  readonly take: () => Uint8Array;
}

const ROOM_BYTES = 1 << 18;
const NUMBERS: ReadonlySet<ColumnKind> = new Set(['number', 'latitude', 'longitude']);

/**
 * A writer of rows of an identifier, numbers, and cells of the input that pass through: what `createCsvWriter` makes of
 * `createCellTexts` and those cells, straight to bytes. A property test holds the two ways together.
 * Given: the own columns, the identifier first; the delimiter, which must be that of the input, as cells that pass through
 * are copied with those between them; the line end. None of the cells copied may need quotes.
 * Returned: null where a column after the first is no number with fixed decimals.
 */
export function createCarriedRowWriter<Of>(
  columns: readonly WrittenColumn<Of>[],
  delimiter: string,
  eol: '\n' | '\r\n',
): CarriedRowWriter<Of> | null {
  const [id, ...numbers] = columns;
  const isPlain = numbers.every(({ kind, decimals }) => NUMBERS.has(kind) && decimals !== AS_GIVEN);
  if (id?.kind !== 'id' || !isPlain || numbers.length > MOST_NUMBERS) return null;
  const delimiterCode = delimiter.charCodeAt(0);
  const isCrlf = eol === '\r\n';
  const take = createNumberTaker(numbers.flatMap(({ get }) => (get === null ? [] : [get])));
  const decimals = Uint8Array.from(numbers, (column) => column.decimals);
  const values = new Float64Array(MOST_NUMBERS);
  const numberBytes = MOST_FIXED_BYTES * numbers.length;
  let bytes: Buffer = Buffer.allocUnsafeSlow(ROOM_BYTES);
  let room = digitRoom(bytes);
  let at = 0;

  function reserve(extra: number): void {
    if (at + extra <= bytes.length) return;
    const larger = Buffer.allocUnsafeSlow(2 * (at + extra));
    bytes.copy(larger, 0, 0, at);
    bytes = larger;
    room = digitRoom(bytes);
  }

  return {
    add(of, { bytes: from, spans, spansAt, spanCount }) {
      let most = numberBytes + spanCount + 2;
      for (let span = 0; span < spanCount; span += 1) {
        const place = spansAt + 2 * span;
        most += (spans[place + 1] as number) - (spans[place] as number);
      }
      reserve(most);
      take(of, values);
      for (let span = 0; span < spanCount; span += 1) {
        const place = spansAt + 2 * span;
        const end = spans[place + 1] as number;
        for (let byte = spans[place] as number; byte < end; byte += 1) bytes[at++] = from[byte] as number;
        bytes[at++] = delimiterCode;
        if (span === 0) at = writeFixedCells(room, at, values, decimals, delimiterCode);
      }
      // The line end takes the place of the last delimiter.
      at -= 1;
      if (isCrlf) bytes[at++] = 0x0d;
      bytes[at++] = 0x0a;
    },
    addText(text) {
      reserve(3 * text.length);
      at = writeText(bytes, at, text);
    },
    take() {
      const taken = bytes.subarray(0, at);
      at = 0;
      return taken;
    },
  };
}
