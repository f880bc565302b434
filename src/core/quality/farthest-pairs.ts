/** A place; null: not known. Metres. */
export interface SpreadPlace {
  readonly x: number | null;
  readonly y: number | null;
  readonly up: number | null;
}

/**
 * The two places farthest apart in plan, and the two farthest apart in height: any limit that a pair exceeds, one of these does.
 *
 * Given: places. Returned: none, one or two pairs of indexes, the smaller first, each pair once.
 *
 * Reference: the ends of a diameter stand on the convex hull (textbook); the hull by Andrew's chain.
 */
export function farthestPairs(places: readonly SpreadPlace[]): readonly (readonly [number, number])[] {
  const pairs: (readonly [number, number])[] = [];
  const add = (i: number | undefined, j: number | undefined): void => {
    if (i === undefined || j === undefined || i === j) return;
    const pair = i < j ? ([i, j] as const) : ([j, i] as const);
    if (!pairs.some(([a, b]) => a === pair[0] && b === pair[1])) pairs.push(pair);
  };
  const corners = hull(places.flatMap(({ x, y }, index) => (x === null || y === null ? [] : [{ x, y, index }])));
  let most = -1;
  let ends: readonly [number, number] | null = null;
  for (const a of corners) {
    for (const b of corners) {
      const apart = Math.hypot(a.x - b.x, a.y - b.y);
      if (apart > most) [most, ends] = [apart, [a.index, b.index]];
    }
  }
  add(ends?.[0], ends?.[1]);
  const heights = places
    .flatMap(({ up }, index) => (up === null ? [] : [{ up, index }]))
    .sort((a, b) => a.up - b.up || a.index - b.index);
  add(heights[0]?.index, heights.at(-1)?.index);
  return pairs;
}

interface Corner {
  readonly x: number;
  readonly y: number;
  readonly index: number;
}

function hull(points: readonly Corner[]): readonly Corner[] {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  const half = (own: readonly Corner[]): readonly Corner[] => {
    const chain: Corner[] = [];
    for (const point of own) {
      for (;;) {
        const [a, b] = [chain.at(-2), chain.at(-1)];
        if (a === undefined || b === undefined || (b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x) > 0)
          break;
        chain.pop();
      }
      chain.push(point);
    }
    return chain;
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}
