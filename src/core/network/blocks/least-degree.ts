import type { BlockGraph } from './elimination-order.js';

/**
 * The order of least degree: next is always the block that meets the fewest others, of equals the first in the list.
 *
 * Given: which blocks meet; the place of each block, negative: it is still to be eliminated. Returned: those blocks in order, each
 * with the later ones it meets. Reference: GEORGE-LIU-1989 (from memory).
 */
export function leastDegreeOrder(
  { starts, others }: BlockGraph,
  placeOf: Int32Array,
): readonly { readonly block: number; readonly others: readonly number[] }[] {
  const meets = new Map<number, Set<number>>();
  const heap = createHeap();
  for (let block = 0; block < placeOf.length; block += 1) {
    if (placeOf[block]! >= 0) continue;
    const own = new Set(others.subarray(starts[block], starts[block + 1]));
    meets.set(block, own);
    heap.push(own.size, block);
  }
  const found: { readonly block: number; readonly others: readonly number[] }[] = [];
  while (meets.size > 0) {
    const { degree, block } = heap.pop();
    const own = meets.get(block);
    if (own === undefined) continue;
    if (own.size !== degree) {
      heap.push(own.size, block);
      continue;
    }
    meets.delete(block);
    const list = [...own];
    found.push({ block, others: list });
    for (const a of list) {
      const of = meets.get(a)!;
      const before = of.size;
      of.delete(block);
      for (const b of list) if (a !== b) of.add(b);
      // An entry in the heap may be too small, never too large.
      if (of.size < before) heap.push(of.size, a);
    }
  }
  return found;
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
