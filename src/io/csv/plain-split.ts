import type { Buffer } from 'node:buffer';

const [SPACE, TILDE] = [0x20, 0x7e];

/** Finds the cells of plain rows, one row at a time. */
export interface PlainSplit {
  /** Where the cells of the row begin; the end of a cell is one before the start of the next, which the last has too. */
  readonly starts: Int32Array;
  /** Finds the cells between two positions; false where their number is another, or a byte is no visible ASCII or space. */
  readonly split: (bytes: Buffer, from: number, to: number) => boolean;
}

/** A finder of the cells of rows of so many, with an ASCII character between them. */
export function createPlainSplit(cellCount: number, delimiterCode: number): PlainSplit {
  const starts = new Int32Array(cellCount + 1);
  return {
    starts,
    split(bytes, from, to) {
      let found = 1;
      starts[0] = from;
      for (let at = from; at < to; at += 1) {
        const byte = bytes[at] as number;
        if (byte === delimiterCode) {
          if (found === cellCount) return false;
          starts[found] = at + 1;
          found += 1;
        } else if (byte < SPACE || byte > TILDE) return false;
      }
      starts[found] = to + 1;
      return found === cellCount;
    },
  };
}
