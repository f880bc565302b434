import type { HeldBytes } from '../../bytes/held-bytes.js';

/** Where elements begin and end in a document, white space around them included; offsets in bytes. */
export interface Spans {
  readonly count: number;
  readonly startOf: (index: number) => number;
  readonly endOf: (index: number) => number;
}

/** Where the elements of one list of a document end, each before a comma or the closing bracket. */
export interface SpanList {
  /** After the opening bracket. */
  readonly start: number;
  /** At the closing bracket, or what was added last. */
  readonly end: () => number;
  /** An element ends before this offset. Returned: its bytes, with the white space around it. */
  readonly add: (end: number) => number;
  /** All of them. */
  readonly close: (held: HeldBytes) => Spans;
}

/** Given: the offset after the opening bracket, in bytes. */
export function createSpanList(start: number): SpanList {
  let ends = new Float64Array(1024);
  let count = 0;
  let last = start - 1;
  return {
    start,
    end: () => Math.max(start, last),
    add(end) {
      if (count === ends.length) {
        const larger = new Float64Array(2 * count);
        larger.set(ends);
        ends = larger;
      }
      ends[count] = end;
      count += 1;
      const bytes = end - last - 1;
      last = end;
      return bytes;
    },
    close(held) {
      // Nothing but white space between the brackets is no element.
      const isEmpty = count === 1 && isBlank(held, start, last);
      const own = ends;
      return {
        count: isEmpty ? 0 : count,
        startOf: (index) => (index === 0 ? start : (own[index - 1] as number) + 1),
        endOf: (index) => own[index] as number,
      };
    },
  };
}

/** White space alone. Source: RFC 8259 section 2. */
function isBlank(held: HeldBytes, start: number, end: number): boolean {
  for (const byte of held.slice(start, end))
    if (byte !== 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d) return false;
  return true;
}

/** Those of some indexes. */
export function pickSpans({ startOf, endOf }: Spans, indexes: readonly number[]): Spans {
  const picked = Float64Array.from(indexes);
  return {
    count: picked.length,
    startOf: (index) => startOf(picked[index] as number),
    endOf: (index) => endOf(picked[index] as number),
  };
}
