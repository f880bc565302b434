import type { Buffer } from 'node:buffer';
import { startsWith, wordsOf } from './csv-scan.js';

const LF = 0x0a;
const CR = 0x0d;

/** The records of a block without a quote byte, where every line is one: found, not yet decoded. */
export interface PlainRecords {
  readonly bytes: Buffer;
  readonly count: number;
  /** Position of a record's first byte, and just after its last one, without the line end. */
  readonly startOf: (index: number) => number;
  readonly endOf: (index: number) => number;
  readonly lineOf: (index: number) => number;
}

/**
 * Finds the records of a block without quotes by the rules of `scanCsv`: comments and blank lines are none; LF, CR LF
 * and CR end a line. Given: whole lines, the number of the first, the comment prefix or null.
 */
export function plainRecords(bytes: Buffer, firstLine: number, comment: Buffer | null): PlainRecords {
  const starts: number[] = [];
  const ends: number[] = [];
  const lines: number[] = [];
  let line = firstLine;
  let start = 0;
  const { length } = bytes;
  // Four bytes at a time while none of them may be a line end.
  const { toWord, words } = wordsOf(bytes);
  for (let at = 0; at <= length; at += 1) {
    if (((at - toWord) & 3) === 0) {
      let word = (at - toWord) >> 2;
      while (word >= 0 && word < words.length && !mayEndLine(words[word] as number)) word += 1;
      at = Math.max(at, toWord + 4 * word);
    }
    const byte = at < length ? (bytes[at] as number) : LF;
    if (byte > CR || (byte !== LF && byte !== CR)) continue;
    if (at > start && (comment === null || !startsWith(bytes, comment, start))) {
      starts.push(start);
      ends.push(at);
      lines.push(line);
    }
    if (byte === CR && bytes[at + 1] === LF) at += 1;
    start = at + 1;
    line += 1;
  }
  return {
    bytes,
    count: starts.length,
    // On the way of a row: not asked for each.
    startOf: (index) => starts[index] ?? 0,
    // On the way of a row: not asked for each.
    endOf: (index) => ends[index] ?? 0,
    // On the way of a row: not asked for each.
    lineOf: (index) => lines[index] ?? 0,
  };
}

/**
 * A record as text cells. Each record is decoded by itself: a cell cut from a long string keeps the whole of it in
 * memory, and cells may outlive their block.
 */
export function plainRow(records: PlainRecords, index: number, delimiter: string): string[] {
  return records.bytes.toString('utf8', records.startOf(index), records.endOf(index)).split(delimiter);
}

/** False where none of the four bytes of a word is a carriage return or a line feed, nor anything below one. */
function mayEndLine(word: number): boolean {
  return ((word - 0x0e0e0e0e) & ~word & 0x80808080) !== 0;
}
