import { Buffer, isUtf8 } from 'node:buffer';

/** Checks a UTF-8 text that arrives in chunks, without copying them. */
export interface Utf8Check {
  /** Offset of the first bad byte from the start of the text, or −1. */
  readonly push: (chunk: Buffer) => number;
  /** Offset of a character cut off by the end of the text, or −1. */
  readonly end: () => number;
}

const NONE = Buffer.alloc(0);

/**
 * A check of UTF-8 over chunk edges: a character split between chunks is joined from its few bytes, the
 * rest of each chunk is checked where it lies. Source: RFC 3629 section 4.
 */
export function createUtf8Check(): Utf8Check {
  let pending = NONE;
  let offset = 0;
  return {
    push(chunk) {
      let start = 0;
      if (pending.length > 0) {
        // On the way of every byte; the place is inside by the condition above.
        const wanted = sequenceLength(pending[0] ?? 0) - pending.length;
        start = Math.min(wanted, chunk.length);
        const joined = Buffer.concat([pending, chunk.subarray(0, start)]);
        if (start < wanted) {
          pending = joined;
          return -1;
        }
        if (!isUtf8(joined)) return offset;
        offset += joined.length;
        pending = NONE;
      }
      const end = chunk.length - incompleteTail(chunk, start);
      const body = chunk.subarray(start, end);
      if (!isUtf8(body)) return offset + firstBadByte(body);
      offset += body.length;
      pending = end < chunk.length ? Buffer.from(chunk.subarray(end)) : NONE;
      return -1;
    },
    end: () => (pending.length > 0 ? offset : -1),
  };
}

/** Bytes of the sequence that `lead` opens; 1 for anything that opens none. */
function sequenceLength(lead: number): number {
  if (lead >= 0xf0 && lead < 0xf8) return 4;
  if (lead >= 0xe0 && lead < 0xf0) return 3;
  return lead >= 0xc0 && lead < 0xe0 ? 2 : 1;
}

/** How many bytes at the end of the chunk belong to a sequence that is not complete. */
function incompleteTail(chunk: Buffer, start: number): number {
  for (let length = 1; length <= 3 && chunk.length - length >= start; length += 1) {
    // On the way of every byte; the place is inside by the condition above.
    const byte = chunk[chunk.length - length] ?? 0;
    if (byte < 0x80) return 0;
    if (byte >= 0xc0) return sequenceLength(byte) > length ? length : 0;
  }
  return 0;
}

/** Offset of the first byte that is not UTF-8, found by halving; called only when there is one. */
function firstBadByte(bytes: Buffer): number {
  let good = 0;
  let bad = bytes.length;
  while (bad - good > 1) {
    const middle = (good + bad) >>> 1;
    const part = bytes.subarray(0, middle);
    if (isUtf8(part.subarray(0, middle - incompleteTail(part, 0)))) good = middle;
    else bad = middle;
  }
  const tail = incompleteTail(bytes.subarray(0, good), 0);
  return good - tail;
}
