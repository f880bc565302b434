import { leastDegreeOrder } from './least-degree.js';

/** In which order blocks of unknowns are eliminated, and which later ones each meets. */
export interface EliminationOrder {
  /** The block at each place of the order. */
  readonly blockAt: Int32Array;
  /** The place of each block in the order. */
  readonly placeOf: Int32Array;
  /** Where the later places that the column of each place holds begin in `below`; at the end how many there are. */
  readonly belowStarts: Int32Array;
  /** Of each place, the later places that its column of the factor holds, rising. */
  readonly below: Int32Array;
}

/** Which blocks meet: of each block its others, one after the other. */
export interface BlockGraph {
  readonly starts: Int32Array;
  readonly others: Int32Array;
}

/** A block that meets more than this many others waits for the order of least degree. */
const FEW = 32;
/** Entries looked at one by one before the search of a long column halves it. */
const NEAR = 4;
/** Blocks that do not meet each other go first, again and again, while each time takes at least this share of those left. */
const LEAST_SHARE = 0.25;

/**
 * An order of elimination that fills little.
 *
 * First go, all at once, blocks of which no two meet: points that are seen from a few bases, each on its own, leave a small full
 * system of bases and shared errors, which is elimination in the form of an arrow. Of points that meet points every second one
 * goes, and again of those left; what then remains goes by the order of least degree.
 *
 * Given: how many blocks there are; which blocks each observation meets, as `BlockEquations` holds them. Returned: the order and
 * the pattern of the factor. Reference: GEORGE-LIU-1989 (from memory).
 */
export function eliminationOrder(
  count: number,
  cliques: { readonly termStarts: Int32Array; readonly termBlocks: Int32Array },
): EliminationOrder {
  const blockAt = new Int32Array(count);
  const placeOf = new Int32Array(count).fill(-1);
  const columns = createColumns(count);
  let left = count;
  let graph = graphOf(count, cliques);
  for (;;) {
    const chosen = apart(graph, placeOf);
    if (chosen.length === 0 || chosen.length < LEAST_SHARE * left) break;
    for (const block of chosen) {
      const place = count - left;
      blockAt[place] = block;
      placeOf[block] = place;
      columns.add(graph.others, graph.starts[block]!, graph.starts[block + 1]!);
      left -= 1;
    }
    graph = graphWithout(graph, placeOf);
  }
  for (const { block, others } of leastDegreeOrder(graph, placeOf)) {
    const place = count - left;
    blockAt[place] = block;
    placeOf[block] = place;
    columns.add(others, 0, others.length);
    left -= 1;
  }
  const { starts, entries } = columns.finish();
  for (let at = 0; at < entries.length; at += 1) entries[at] = placeOf[entries[at]!]!;
  for (let place = 0; place < count; place += 1) sortRange(entries, starts[place]!, starts[place + 1]!);
  return { blockAt, placeOf, belowStarts: starts, below: entries };
}

/** Where in `below` a column holds a later place, looked for from an entry on; a negative number where it does not. */
export function entryOf({ belowStarts, below }: EliminationOrder, column: number, place: number, from: number): number {
  let low = from;
  let high = belowStarts[column + 1]!;
  for (let step = 0; step < NEAR && low < high; step += 1, low += 1) {
    const own = below[low]!;
    if (own === place) return low;
    if (own > place) return -1;
  }
  const end = high;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (below[middle]! < place) low = middle + 1;
    else high = middle;
  }
  return low < end && below[low] === place ? low : -1;
}

/** The graph in which all blocks of one observation meet. */
function graphOf(
  count: number,
  { termStarts, termBlocks }: { readonly termStarts: Int32Array; readonly termBlocks: Int32Array },
): BlockGraph {
  const starts = new Int32Array(count + 1);
  for (let at = 0; at < termBlocks.length; at += 1) starts[termBlocks[at]! + 1]! += 1;
  for (let block = 0; block < count; block += 1) starts[block + 1]! += starts[block]!;
  const fill = starts.slice();
  const observations = new Int32Array(termBlocks.length);
  for (let index = 0; index + 1 < termStarts.length; index += 1)
    for (let at = termStarts[index]!; at < termStarts[index + 1]!; at += 1) {
      const block = termBlocks[at]!;
      observations[fill[block]!] = index;
      fill[block]! += 1;
    }
  const seen = new Int32Array(count).fill(-1);
  const columns = createColumns(count);
  for (let block = 0; block < count; block += 1) {
    seen[block] = block;
    for (let own = starts[block]!; own < starts[block + 1]!; own += 1) {
      const index = observations[own]!;
      for (let at = termStarts[index]!; at < termStarts[index + 1]!; at += 1) {
        const other = termBlocks[at]!;
        if (seen[other] === block) continue;
        seen[other] = block;
        columns.push(other);
      }
    }
    columns.close();
  }
  const { starts: ends, entries } = columns.finish();
  return { starts: ends, others: entries };
}

/** Blocks left of which no two meet, those that meet the fewest first; in rising order. */
function apart({ starts, others }: BlockGraph, placeOf: Int32Array): readonly number[] {
  const byDegree: number[][] = Array.from({ length: FEW + 1 }, () => []);
  for (let block = 0; block < placeOf.length; block += 1) {
    const degree = starts[block + 1]! - starts[block]!;
    if (placeOf[block]! < 0 && degree <= FEW) byDegree[degree]!.push(block);
  }
  const isMet = new Uint8Array(placeOf.length);
  const chosen = new Uint8Array(placeOf.length);
  for (const blocks of byDegree)
    for (const block of blocks) {
      if (isMet[block] === 1) continue;
      chosen[block] = 1;
      for (let at = starts[block]!; at < starts[block + 1]!; at += 1) isMet[others[at]!] = 1;
    }
  const found: number[] = [];
  for (let block = 0; block < chosen.length; block += 1) if (chosen[block] === 1) found.push(block);
  return found;
}

/** The graph of the blocks without a place, in which those that met one with a place meet each other now. */
function graphWithout({ starts, others }: BlockGraph, placeOf: Int32Array): BlockGraph {
  const count = placeOf.length;
  const seen = new Int32Array(count).fill(-1);
  const columns = createColumns(count);
  for (let block = 0; block < count; block += 1) {
    seen[block] = block;
    for (let at = starts[block]!; placeOf[block]! < 0 && at < starts[block + 1]!; at += 1) {
      const other = others[at]!;
      const isLeft = placeOf[other]! < 0;
      const [from, to] = isLeft ? [at, at + 1] : [starts[other]!, starts[other + 1]!];
      for (let next = from; next < to; next += 1) {
        const met = others[next]!;
        if (seen[met] === block) continue;
        seen[met] = block;
        columns.push(met);
      }
    }
    columns.close();
  }
  const { starts: ends, entries } = columns.finish();
  return { starts: ends, others: entries };
}

interface Columns {
  readonly push: (entry: number) => void;
  readonly close: () => void;
  readonly add: (entries: ArrayLike<number>, from: number, to: number) => void;
  readonly finish: () => { readonly starts: Int32Array; readonly entries: Int32Array };
}

/** Lists one after the other in one array. */
function createColumns(count: number): Columns {
  const starts = new Int32Array(count + 1);
  let entries = new Int32Array(Math.max(16, 4 * count));
  let [column, filled] = [0, 0];
  const push = (entry: number): void => {
    if (filled === entries.length) {
      const more = new Int32Array(2 * filled);
      more.set(entries);
      entries = more;
    }
    entries[filled] = entry;
    filled += 1;
  };
  const close = (): void => {
    column += 1;
    starts[column] = filled;
  };
  return {
    push,
    close,
    add(list, from, to) {
      for (let at = from; at < to; at += 1) push(list[at]!);
      close();
    },
    finish: () => ({ starts, entries: entries.slice(0, filled) }),
  };
}

/** Sorts a part of an array: short ones, as most are, by insertion. */
function sortRange(array: Int32Array, from: number, to: number): void {
  if (to - from > 24) {
    array.subarray(from, to).sort();
    return;
  }
  for (let at = from + 1; at < to; at += 1) {
    const value = array[at]!;
    let into = at;
    while (into > from && array[into - 1]! > value) {
      array[into] = array[into - 1]!;
      into -= 1;
    }
    array[into] = value;
  }
}
