/**
 * Sixteen-bit values by 64-bit hashes, in little memory: open-addressed tables of 10 bytes an entry, half to four
 * fifths full. A value of 0 is one that was never set.
 */
export interface HashTable {
  get(high: number, low: number): number;
  /** Given: a value from 1 to 65,535. */
  set(high: number, low: number, value: number): void;
}

/** One part of the table; each grows by itself, so that growing never needs the whole of it twice. */
interface Segment {
  size: number;
  used: number;
  keys: Uint32Array;
  /** 0: the slot is free. */
  values: Uint16Array;
}

const SEGMENTS = 64;
const START = 64;
const GROWTH = 1.5;
const FULL = 0.8;

/** An empty table. */
export function createHashTable(): HashTable {
  const segments: readonly Segment[] = Array.from({ length: SEGMENTS }, () => emptySegment(START));
  return {
    get(high, low) {
      const segment = segments[low & (SEGMENTS - 1)] as Segment;
      return segment.values[slotOf(segment, high, low)] as number;
    },
    set(high, low, value) {
      const segment = segments[low & (SEGMENTS - 1)] as Segment;
      let slot = slotOf(segment, high, low);
      if (segment.values[slot] === 0) {
        if (segment.used >= FULL * segment.size) {
          grow(segment);
          slot = slotOf(segment, high, low);
        }
        segment.keys[slot * 2] = high;
        segment.keys[slot * 2 + 1] = low;
        segment.used += 1;
      }
      segment.values[slot] = value;
    },
  };
}

function emptySegment(size: number): Segment {
  return { size, used: 0, keys: new Uint32Array(size * 2), values: new Uint16Array(size) };
}

/** The slot that holds a hash, or the free one where it belongs. */
function slotOf({ size, keys, values }: Segment, high: number, low: number): number {
  let slot = Math.floor((high * size) / 4_294_967_296);
  while (values[slot] !== 0 && (keys[slot * 2] !== high || keys[slot * 2 + 1] !== low)) {
    slot += 1;
    if (slot === size) slot = 0;
  }
  return slot;
}

function grow(segment: Segment): void {
  const larger = emptySegment(Math.ceil(segment.size * GROWTH));
  for (let old = 0; old < segment.size; old += 1) {
    const value = segment.values[old] as number;
    if (value === 0) continue;
    const high = segment.keys[old * 2] as number;
    const low = segment.keys[old * 2 + 1] as number;
    const slot = slotOf(larger, high, low);
    larger.keys[slot * 2] = high;
    larger.keys[slot * 2 + 1] = low;
    larger.values[slot] = value;
  }
  segment.size = larger.size;
  segment.keys = larger.keys;
  segment.values = larger.values;
}
