/**
 * Numbers the occupations of each point, 1 upwards, in little memory a point.
 *
 * Keeps no names: each is reduced to a 64-bit hash in open-addressed tables (9 bytes an entry, half to
 * four fifths full), so that a file of millions of points does not fill memory with text. Two names
 * share a hash with a chance of about n²/2⁶⁵ (4·10⁻⁷ for four million names); the later one would then
 * start at 2 instead of 1. Identity, tests and sums never rest on this number.
 */
export interface OccupationCounter {
  /** The number of this occupation of the point. */
  next(pointId: string): number;
  /** The same for a name already reduced by `hashPointId`. */
  nextHashed(high: number, low: number): number;
}

/** One part of the table; each grows by itself, so that growing never needs the whole of it twice. */
interface Segment {
  size: number;
  used: number;
  keys: Uint32Array;
  /** 0: the slot is free. MANY: see `beyond`. */
  counts: Uint8Array;
}

const SEGMENTS = 64;
const START = 64;
const GROWTH = 1.5;
const FULL = 0.8;
const MANY = 255;

/** A counter with nothing counted. */
export function createOccupationCounter(): OccupationCounter {
  const segments: readonly Segment[] = Array.from({ length: SEGMENTS }, () => emptySegment(START));
  /** Counts too large for a byte, by segment and slot hash. */
  const beyond = new Map<string, number>();

  function nextHashed(high: number, low: number): number {
    const segment = segments[low & (SEGMENTS - 1)] as Segment;
    let slot = slotOf(segment, high, low);
    if (segment.counts[slot] === 0) {
      if (segment.used >= FULL * segment.size) {
        grow(segment);
        slot = slotOf(segment, high, low);
      }
      segment.keys[slot * 2] = high;
      segment.keys[slot * 2 + 1] = low;
      segment.used += 1;
    }
    const count = segment.counts[slot] as number;
    if (count < MANY - 1) {
      segment.counts[slot] = count + 1;
      return count + 1;
    }
    segment.counts[slot] = MANY;
    const name = `${high}:${low}`;
    const larger = (beyond.get(name) ?? MANY - 1) + 1;
    beyond.set(name, larger);
    return larger;
  }

  const held = new Uint32Array(2);
  return {
    nextHashed,
    next(pointId) {
      hashPointId(pointId, held, 0);
      return nextHashed(held[0] as number, held[1] as number);
    },
  };
}

function emptySegment(size: number): Segment {
  return { size, used: 0, keys: new Uint32Array(size * 2), counts: new Uint8Array(size) };
}

/** The slot that holds a hash, or the free one where it belongs. */
function slotOf({ size, keys, counts }: Segment, high: number, low: number): number {
  let slot = Math.floor((high * size) / 4_294_967_296);
  while (counts[slot] !== 0 && (keys[slot * 2] !== high || keys[slot * 2 + 1] !== low)) {
    slot += 1;
    if (slot === size) slot = 0;
  }
  return slot;
}

function grow(segment: Segment): void {
  const larger = emptySegment(Math.ceil(segment.size * GROWTH));
  for (let old = 0; old < segment.size; old += 1) {
    const count = segment.counts[old] as number;
    if (count === 0) continue;
    const high = segment.keys[old * 2] as number;
    const low = segment.keys[old * 2 + 1] as number;
    const slot = slotOf(larger, high, low);
    larger.keys[slot * 2] = high;
    larger.keys[slot * 2 + 1] = low;
    larger.counts[slot] = count;
  }
  segment.size = larger.size;
  segment.keys = larger.keys;
  segment.counts = larger.counts;
}

/** Writes a 64-bit hash of a name as two words, from `at` on. */
export function hashPointId(pointId: string, out: Uint32Array, at: number): void {
  let a = 0x811c9dc5;
  let b = 0x9e3779b9;
  for (let i = 0; i < pointId.length; i += 1) {
    const unit = pointId.charCodeAt(i);
    a = Math.imul(a ^ unit, 0x01000193);
    b = Math.imul(b ^ unit, 0x85ebca6b);
    b ^= b >>> 13;
  }
  out[at] = mixed(a);
  out[at + 1] = mixed(b ^ pointId.length);
}

/** Finishing mix, so that every bit of the hash depends on every character. */
function mixed(value: number): number {
  let x = value >>> 0;
  x ^= x >>> 16;
  x = Math.imul(x, 0x7feb352d);
  x ^= x >>> 15;
  x = Math.imul(x, 0x846ca68b);
  x ^= x >>> 16;
  return x >>> 0;
}
