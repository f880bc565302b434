import type { Buffer } from 'node:buffer';
import { startsWith } from './csv-scan.js';
import { MOST_DIGITS, wholePowerOfTen } from './plain-cell-values.js';

/** A column of numbers, and where its values go among those of a row. */
export interface ScannedNumber {
  readonly index: number;
  readonly slot: number;
  readonly least: number;
  readonly most: number;
  readonly isFilled: boolean;
  /** 180 to 360 is read and given as −180 to 0. */
  readonly isLongitude: boolean;
}

/** Cells that follow each other in the file, the delimiters between them included: the first and the last, from 0. */
export interface ScannedSpan {
  readonly from: number;
  readonly to: number;
}

/** What is kept of the rows of a table. */
export interface ScanPlan {
  readonly cellCount: number;
  /** ASCII. */
  readonly delimiterCode: number;
  readonly comment: Buffer | null;
  /** The cell that must hold an identifier, without outer space. */
  readonly idIndex: number;
  readonly numbers: readonly ScannedNumber[];
  readonly spans: readonly ScannedSpan[];
  /** The values of a row that has none of `numbers`. */
  readonly blank: readonly number[];
}

/** Rows that were found, one after another. */
export interface ScannedRows {
  readonly count: number;
  /** As many of each row as `blank` has; NaN: an empty cell. */
  readonly values: Float64Array;
  /** Where each span of a row begins and ends. */
  readonly spans: Int32Array;
}

/** Finds and reads the rows of whole lines; null where one is not in the plain form. What it gives holds until the next call. */
export type PlainScan = (bytes: Buffer) => ScannedRows | null;

const [TEXT, DELIMITER, LINE_END, NO_TEXT] = [0, 1, 2, 3];
const [LF, CR, SPACE, TILDE, MINUS, POINT, ZERO] = [0x0a, 0x0d, 0x20, 0x7e, 0x2d, 0x2e, 0x30];
/** So many digits fit into a whole number of 31 bits, whatever they are. */
const SHORT_DIGITS = 9;
const NOT_PLAIN = -1;

/**
 * A scan in one pass over the bytes of whole lines without a quote: rows of so many cells of visible ASCII and space,
 * numbers as an optional minus, digits and at most one point. Comments and blank lines are no rows; LF, CR LF and CR end
 * a line. A number is that of `plainNumber` to the last bit, and a row what the general way reads, which tests hold.
 */
export function createPlainScan(plan: ScanPlan): PlainScan {
  const { cellCount, comment, blank, idIndex } = plan;
  const classes = classesOf(plan.delimiterCode);
  const numberOf = Array.from({ length: cellCount }, (_, cell) => plan.numbers.find(({ index }) => index === cell));
  const spanCells = Int32Array.from(plan.spans.flatMap(({ from, to }) => [from, to + 1]));
  const starts = new Int32Array(cellCount + 1);
  const [valueCount, edgeCount] = [blank.length, spanCells.length];
  let values = new Float64Array(0);
  let spans = new Int32Array(0);

  function reserve(rows: number): void {
    if (values.length >= rows * valueCount) return;
    values = Float64Array.from({ length: rows * valueCount }, (_, index) => blank[index % valueCount] as number);
    spans = new Int32Array(rows * edgeCount);
  }

  /** Reads the cells of a row from `from` on. Returned: where its line ends, or `NOT_PLAIN`. */
  function readRow(bytes: Buffer, from: number, base: number): number {
    const { length } = bytes;
    let at = from;
    for (let cell = 0; cell < cellCount; cell += 1) {
      starts[cell] = at;
      const column = numberOf[cell];
      if (column === undefined) while (at < length && classes[bytes[at] as number] === TEXT) at += 1;
      else {
        at = readNumber(bytes, at, values, base + column.slot);
        if (at === starts[cell] ? column.isFilled : !hold(column, values, base + column.slot)) return NOT_PLAIN;
      }
      const stop = at < length ? (classes[bytes[at] as number] as number) : LINE_END;
      if (stop !== (cell + 1 < cellCount ? DELIMITER : LINE_END)) return NOT_PLAIN;
      at += 1;
    }
    starts[cellCount] = at;
    return at - 1;
  }

  /** The spans of the row that was read; false where its identifier is empty or has outer space. */
  function takeSpans(bytes: Buffer, base: number): boolean {
    const from = starts[idIndex] as number;
    const to = (starts[idIndex + 1] as number) - 1;
    if (from === to || bytes[from] === SPACE || bytes[to - 1] === SPACE) return false;
    for (let edge = 0; edge < edgeCount; edge += 2) {
      spans[base + edge] = starts[spanCells[edge] as number] as number;
      spans[base + edge + 1] = (starts[spanCells[edge + 1] as number] as number) - 1;
    }
    return true;
  }

  return (bytes) => {
    const { length } = bytes;
    // A row has a delimiter or a line end after each of its cells, the last of the file perhaps none.
    reserve(Math.ceil((length + 1) / cellCount));
    let count = 0;
    for (let at = 0; at < length; at += 1) {
      const first = bytes[at] as number;
      if (first === LF) continue;
      if (comment !== null && startsWith(bytes, comment, at)) at = lineEnd(bytes, at);
      else if (first !== CR) {
        at = readRow(bytes, at, count * valueCount);
        if (at === NOT_PLAIN || !takeSpans(bytes, count * edgeCount)) return null;
        count += 1;
      }
    }
    return { count, values, spans };
  };
}

/**
 * Reads a number into its place and finds where its cell ends. Returned: the first byte that belongs to no number. NaN is
 * laid down where there is none, or one of more digits than are read without care.
 */
function readNumber(bytes: Buffer, from: number, values: Float64Array, place: number): number {
  const { length } = bytes;
  const isNegative = from < length && bytes[from] === MINUS;
  let at = isNegative ? from + 1 : from;
  let point = -1;
  let digits = 0;
  // Two whole numbers: the arithmetic of doubles takes several times as long a digit.
  let head = 0;
  let tail = 0;
  for (; at < length; at += 1) {
    const byte = bytes[at] as number;
    const digit = byte - ZERO;
    if (digit >= 0 && digit <= 9) {
      if (digits < SHORT_DIGITS) head = (head * 10 + digit) | 0;
      else tail = (tail * 10 + digit) | 0;
      digits += 1;
    } else if (byte === POINT && point < 0) point = at;
    else break;
  }
  if (digits < 1 || digits > MOST_DIGITS) values[place] = NaN;
  else {
    const whole = digits <= SHORT_DIGITS ? head : head * wholePowerOfTen(digits - SHORT_DIGITS) + tail;
    const value = whole / wholePowerOfTen(point < 0 ? 0 : at - point - 1);
    values[place] = isNegative ? -value : value;
  }
  return at;
}

/** False where a value lies outside the range of its column; a longitude is turned into −180 to 180. */
function hold({ least, most, isLongitude }: ScannedNumber, values: Float64Array, place: number): boolean {
  const value = values[place] as number;
  // Written so that NaN is refused.
  if (!(value >= least && value <= most)) return false;
  if (isLongitude && value > 180) values[place] = value - 360;
  return true;
}

/** The line end that follows a place, or the end of the bytes. */
function lineEnd(bytes: Buffer, from: number): number {
  let at = from;
  while (at < bytes.length && bytes[at] !== LF && bytes[at] !== CR) at += 1;
  return at;
}

/** What each byte is in a row with an ASCII character between its cells. */
function classesOf(delimiterCode: number): Uint8Array {
  const classes = Uint8Array.from({ length: 256 }, (_, byte) => (byte < SPACE || byte > TILDE ? NO_TEXT : TEXT));
  classes[LF] = LINE_END;
  classes[CR] = LINE_END;
  classes[delimiterCode] = DELIMITER;
  return classes;
}
