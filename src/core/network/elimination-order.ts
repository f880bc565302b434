/** In which order blocks of unknowns are eliminated, and which later ones each meets. */
export interface EliminationOrder {
  /** The block at each place of the order. */
  readonly blockAt: Int32Array;
  /** The place of each block in the order. */
  readonly placeOf: Int32Array;
  /** Of each place, the later places that its column of the factor holds, rising. */
  readonly below: readonly Int32Array[];
}

/**
 * The order of least degree: next is always the block that meets the fewest others, of equals the first in the list.
 *
 * Points that are seen from a few bases go first, each on its own, and leave a small full system of bases and shared errors:
 * elimination in the form of an arrow. Where points meet points, the same rule gives a general sparse order.
 *
 * Given: how many blocks there are; the blocks that each observation meets. Returned: the order and the pattern of the factor.
 * Reference: GEORGE-LIU-1989 (from memory).
 */
export function eliminationOrder(count: number, cliques: Iterable<readonly number[]>): EliminationOrder {
  const meets = Array.from({ length: count }, () => new Set<number>());
  for (const clique of cliques) {
    for (const a of clique) for (const b of clique) if (a !== b) meets[a]!.add(b);
  }
  const heap = createHeap();
  const isDone = new Uint8Array(count);
  for (let block = 0; block < count; block += 1) heap.push(meets[block]!.size, block);
  const blockAt = new Int32Array(count);
  const placeOf = new Int32Array(count);
  const found: number[][] = [];
  for (let place = 0; place < count;) {
    const { degree, block } = heap.pop();
    if (isDone[block] === 1) continue;
    const own = meets[block]!;
    if (own.size !== degree) {
      heap.push(own.size, block);
      continue;
    }
    isDone[block] = 1;
    blockAt[place] = block;
    placeOf[block] = place;
    const others = [...own];
    found.push(others);
    for (const a of others) {
      const of = meets[a]!;
      const before = of.size;
      of.delete(block);
      for (const b of others) if (a !== b) of.add(b);
      // An entry in the heap may be too small, never too large.
      if (of.size < before) heap.push(of.size, a);
    }
    own.clear();
    place += 1;
  }
  const below = found.map((others) => Int32Array.from(others, (block) => placeOf[block]!).sort());
  return { blockAt, placeOf, below };
}

interface Heap {
  readonly push: (degree: number, block: number) => void;
  readonly pop: () => { readonly degree: number; readonly block: number };
}

/** Least degree first, of equals the least block. Keys are one number: degree × 2²⁶ + block. */
function createHeap(): Heap {
  const WIDTH = 2 ** 26;
  const keys: number[] = [];
  return {
    push(degree, block) {
      let at = keys.push(degree * WIDTH + block) - 1;
      while (at > 0) {
        const up = (at - 1) >> 1;
        if (keys[up]! <= keys[at]!) break;
        [keys[up], keys[at]] = [keys[at]!, keys[up]!];
        at = up;
      }
    },
    pop() {
      const key = keys[0]!;
      const last = keys.pop()!;
      if (keys.length > 0) {
        keys[0] = last;
        for (let at = 0; ;) {
          const left = 2 * at + 1;
          const least = left + 1 < keys.length && keys[left + 1]! < keys[left]! ? left + 1 : left;
          if (least >= keys.length || keys[least]! >= keys[at]!) break;
          [keys[least], keys[at]] = [keys[at]!, keys[least]!];
          at = least;
        }
      }
      return { degree: Math.floor(key / WIDTH), block: key % WIDTH };
    },
  };
}
