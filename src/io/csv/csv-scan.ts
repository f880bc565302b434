import type { Buffer } from 'node:buffer';

const QUOTE = 0x22;
const LF = 0x0a;
const CR = 0x0d;

/** Called for each record: its bytes without the line end, and the line on which it starts. */
export type RecordVisit = (start: number, end: number, line: number) => void;

/** Where a scan stopped. */
export interface ScanEnd {
  /** Just after the last whole record, comment or blank line. */
  readonly cut: number;
  /** Line number of the byte at `cut`. */
  readonly lineAtCut: number;
  /** Line of the quote that is still open at the end of the bytes, or 0. */
  readonly openQuoteLine: number;
}

/**
 * Walks over the records of a delimited text: a line end inside quotes does not end a record, comments and
 * blank lines are no records. A quote opens a field only as its first character; elsewhere in an unquoted field it is
 * text (RFC 4180 leaves that open), as in 33°05'35.6"S. The same rules as the parser in csv-read.ts; a property test holds them together.
 * Given: bytes that start at a record, the number of their first line, the comment prefix or null, the delimiter, and whether
 * the text ends where the bytes end (then a last record needs no line end).
 */
export function scanCsv(
  bytes: Buffer,
  firstLine: number,
  comment: Buffer | null,
  delimiter: Buffer,
  isEnd: boolean,
  visit: RecordVisit | null,
): ScanEnd {
  const length = bytes.length;
  const lastOfDelimiter = delimiter[delimiter.length - 1];
  let line = firstLine;
  let at = 0;
  while (at < length) {
    const start = at;
    const startLine = line;
    const isComment = comment !== null && startsWith(bytes, comment, at);
    let openQuoteLine = 0;
    let end = -1;
    let fieldStart = at;
    let isQuoted = false;
    while (at < length) {
      const byte = bytes[at];
      if (byte === QUOTE && !isComment) {
        if (at === fieldStart) isQuoted = true;
        if (isQuoted) openQuoteLine = openQuoteLine === 0 ? line : 0;
      } else if (
        byte === lastOfDelimiter &&
        openQuoteLine === 0 &&
        startsWith(bytes, delimiter, at + 1 - delimiter.length)
      ) {
        fieldStart = at + 1;
        isQuoted = false;
      } else if (byte === LF || byte === CR) {
        if (byte === CR && at + 1 === length && !isEnd) return { cut: start, lineAtCut: startLine, openQuoteLine };
        const next = byte === CR && bytes[at + 1] === LF ? at + 2 : at + 1;
        line += 1;
        if (openQuoteLine === 0) {
          end = at;
          at = next;
          break;
        }
        at = next;
        continue;
      }
      at += 1;
    }
    if (end < 0) {
      if (!isEnd || openQuoteLine > 0) return { cut: start, lineAtCut: startLine, openQuoteLine };
      end = length;
    }
    if (!isComment && end > start && visit !== null) visit(start, end, startLine);
  }
  return { cut: length, lineAtCut: line, openQuoteLine: 0 };
}

/** Just after the last line end that is surely whole, or 0. For bytes without a quote. */
export function lastLineEnd(bytes: Buffer, isEnd: boolean): number {
  if (isEnd) return bytes.length;
  const lf = bytes.lastIndexOf(LF);
  // A carriage return that is the last byte may be half of a line end.
  const cr = bytes.length > 1 ? bytes.lastIndexOf(CR, bytes.length - 2) : -1;
  return Math.max(lf, cr) + 1;
}

/** Number of line ends (LF, CR LF or CR alone) in the bytes. */
export function countLineEnds(bytes: Buffer): number {
  let count = countByte(bytes, LF);
  for (let at = bytes.indexOf(CR); at >= 0; at = bytes.indexOf(CR, at + 1)) if (bytes[at + 1] !== LF) count += 1;
  return count;
}

const NO_WORDS: Int32Array = new Int32Array(0);

/** The bytes as words of four from `toWord` on, as words begin at multiples of four; none where the bytes hold no whole word. */
export function wordsOf(bytes: Buffer): { readonly toWord: number; readonly words: Int32Array } {
  const toWord = -bytes.byteOffset & 3;
  return {
    toWord,
    words:
      bytes.length < toWord + 4
        ? NO_WORDS
        : new Int32Array(bytes.buffer, bytes.byteOffset + toWord, (bytes.length - toWord) >> 2),
  };
}

/** Words whose counts fit into the bytes of one word. */
const MOST_WORDS = 255;

/** How often a byte below 0x80 occurs; four at a time. */
function countByte(bytes: Buffer, byte: number): number {
  const every = byte * 0x01010101;
  const { toWord, words } = wordsOf(bytes);
  // The bytes before the first word and after the last are counted by themselves.
  const head = words.length === 0 ? bytes.length : toWord;
  let count = 0;
  for (let from = 0; from < words.length; from += MOST_WORDS) {
    const to = Math.min(words.length, from + MOST_WORDS);
    let sums = 0;
    for (let index = from; index < to; index += 1) {
      // The top bit of each byte of `found` is set where that byte of the word is the one looked for.
      const differs = (words[index] as number) ^ every;
      const found = ~(((differs & 0x7f7f7f7f) + 0x7f7f7f7f) | differs | 0x7f7f7f7f);
      sums += (found >>> 7) & 0x01010101;
    }
    count += (sums & 0xff) + ((sums >>> 8) & 0xff) + ((sums >>> 16) & 0xff) + (sums >>> 24);
  }
  for (let at = 0; at < head; at += 1) if (bytes[at] === byte) count += 1;
  for (let at = head + words.length * 4; at < bytes.length; at += 1) if (bytes[at] === byte) count += 1;
  return count;
}

/** True where the bytes from `at` begin with `prefix`. */
export function startsWith(bytes: Buffer, prefix: Buffer, at: number): boolean {
  if (at + prefix.length > bytes.length) return false;
  for (let index = 0; index < prefix.length; index += 1) if (bytes[at + index] !== prefix[index]) return false;
  return true;
}
