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
const WORD = 4;
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
  let sourceBytes: Uint8Array = bytes;
  let source = room.view;

  function reserve(extra: number): void {
    if (at + extra <= bytes.length) return;
    const larger = Buffer.allocUnsafeSlow(2 * (at + extra));
    bytes.copy(larger, 0, 0, at);
    bytes = larger;
    room = digitRoom(bytes);
  }

  return {
    add(of, { bytes: from, spans, spansAt, spanCount }) {
      if (from !== sourceBytes) {
        sourceBytes = from;
        source = new DataView(from.buffer, from.byteOffset, from.byteLength);
      }
      let most = numberBytes + spanCount + 2 + WORD;
      for (let span = 0; span < spanCount; span += 1) {
        const place = spansAt + 2 * span;
        most += (spans[place + 1] as number) - (spans[place] as number);
      }
      reserve(most);
      take(of, values);
      for (let span = 0; span < spanCount; span += 1) {
        const place = spansAt + 2 * span;
        at = copyBytes(source, spans[place] as number, spans[place + 1] as number, room.view, at);
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

/** Copies bytes, a word at a time: up to three bytes after the last are written over. Returned: the position after them. */
function copyBytes(source: DataView, from: number, to: number, target: DataView, at: number): number {
  const shift = at - from;
  let byte = from;
  for (const most = source.byteLength - WORD; byte < to && byte <= most; byte += WORD)
    target.setInt32(byte + shift, source.getInt32(byte, true), true);
  for (; byte < to; byte += 1) target.setInt8(byte + shift, source.getInt8(byte));
  return to + shift;
}
