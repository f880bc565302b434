/**
 * Numbers the occupations of each point, 1 upwards, in constant memory a point.
 *
 * Keeps no names: each is reduced to a 64-bit hash in an open-addressed table (12 bytes an entry,
 * half full at most), so that a file of millions of points does not fill memory with text. Two
 * names share a hash with a chance of about n²/2⁶⁵ (4·10⁻⁷ for four million names); the later one
 * would then start at 2 instead of 1. Identity, tests and sums never rest on this number.
 */
export interface OccupationCounter {
  /** The number of this occupation of the point. */
  next(pointId: string): number;
}

const START = 1 << 12;

/** A counter with nothing counted. */
export function createOccupationCounter(): OccupationCounter {
  let capacity = START;
  let used = 0;
  let keys = new Uint32Array(capacity * 2);
  let counts = new Uint32Array(capacity);

  const slotOf = (a: number, b: number): number => {
    const mask = capacity - 1;
    let slot = a & mask;
    while (counts[slot] !== 0 && (keys[slot * 2] !== a || keys[slot * 2 + 1] !== b)) slot = (slot + 1) & mask;
    return slot;
  };
  const grow = (): void => {
    const oldKeys = keys;
    const oldCounts = counts;
    capacity *= 2;
    keys = new Uint32Array(capacity * 2);
    counts = new Uint32Array(capacity);
    for (let i = 0; i < oldCounts.length; i += 1) {
      const count = oldCounts[i] ?? 0;
      if (count === 0) continue;
      const a = oldKeys[i * 2] ?? 0;
      const b = oldKeys[i * 2 + 1] ?? 0;
      const slot = slotOf(a, b);
      keys[slot * 2] = a;
      keys[slot * 2 + 1] = b;
      counts[slot] = count;
    }
  };

  return {
    next(pointId) {
      let a = 0x811c9dc5;
      let b = 0x9e3779b9;
      for (let i = 0; i < pointId.length; i += 1) {
        const unit = pointId.charCodeAt(i);
        a = Math.imul(a ^ unit, 0x01000193);
        b = Math.imul(b ^ unit, 0x85ebca6b);
        b ^= b >>> 13;
      }
      a = mixed(a);
      b = mixed(b ^ pointId.length);
      let slot = slotOf(a, b);
      if (counts[slot] === 0) {
        if (used * 2 >= capacity) {
          grow();
          slot = slotOf(a, b);
        }
        keys[slot * 2] = a;
        keys[slot * 2 + 1] = b;
        used += 1;
      }
      const count = (counts[slot] ?? 0) + 1;
      counts[slot] = count;
      return count;
    },
  };
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
