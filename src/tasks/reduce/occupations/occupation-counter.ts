import { createHashTable } from '../../join/hash-table.js';

/**
 * Numbers the occupations of each point, 1 upwards, in little memory a point.
 *
 * Keeps no names, so that a file of millions of points does not fill memory with text. Names that differ in their
 * last digit only, as the numbers of a day's points do, share one entry with a bit for each digit: about 1.5 bytes a
 * point, and 15 where no two names are so related. A stem is known by 60 bits of hash: two of n share one with a
 * chance of about n²/2⁶¹ (7·10⁻⁸ for four million numbered points); the later one may then start at 2 instead of 1.
 * Identity, tests and sums never rest on this number.
 */
export interface OccupationCounter {
  /** The number of this occupation of the point. */
  next(pointId: string): number;
  /** The same for a name already reduced by `hashPointId`. */
  nextHashed(high: number, low: number): number;
}

/** The last digit stands above these bits of the lower word; 10 there: the name does not end in a digit. */
const STEM_BITS = 28;
const STEM_MASK = (1 << STEM_BITS) - 1;
const NO_DIGIT = 10;
/** Largest count that the table of repeated names holds; larger ones stand in `beyond`. */
const MANY = 0xffff;

/** A counter with nothing counted. */
export function createOccupationCounter(): OccupationCounter {
  /** By stem, the last digits seen, a bit each. */
  const seen = createHashTable();
  /** By name, the occupations of those seen more than once. */
  const counts = createHashTable();
  const beyond = new Map<string, number>();

  function nextHashed(high: number, low: number): number {
    const stem = low & STEM_MASK;
    const digit = 1 << (low >>> STEM_BITS);
    const digits = seen.get(high, stem);
    if ((digits & digit) === 0) {
      seen.set(high, stem, digits | digit);
      return 1;
    }
    const count = Math.max(counts.get(high, low), 1) + 1;
    if (count < MANY) {
      counts.set(high, low, count);
      return count;
    }
    counts.set(high, low, MANY - 1);
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

/** Writes a hash of a name as two words, from `at` on: 60 bits of its stem and, on top of the second word, its last digit. */
export function hashPointId(pointId: string, out: Uint32Array, at: number): void {
  const last = pointId.charCodeAt(pointId.length - 1) - 48;
  const digit = last >= 0 && last <= 9 ? last : NO_DIGIT;
  const length = digit === NO_DIGIT ? pointId.length : pointId.length - 1;
  let a = 0x811c9dc5;
  let b = 0x9e3779b9;
  for (let i = 0; i < length; i += 1) {
    const unit = pointId.charCodeAt(i);
    a = Math.imul(a ^ unit, 0x01000193);
    b = Math.imul(b ^ unit, 0x85ebca6b);
    b ^= b >>> 13;
  }
  out[at] = mixed(a);
  out[at + 1] = (mixed(b ^ length) & STEM_MASK) | (digit << STEM_BITS);
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
