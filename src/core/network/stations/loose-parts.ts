import type { Network } from '../network.js';
import type { Places } from './spread-places.js';

/** Stations that nothing ties to a known place or height, part by part. */
export interface LooseParts {
  readonly loose: readonly {
    readonly ids: readonly string[];
    readonly lacks: 'a place' | 'a height' | 'a plan position';
  }[];
}

/** The parts that lack what would tie them: of places a plan position and a height, of heights a height or a station with a place. */
export function looseParts(
  ids: readonly string[],
  hasPlace: Uint8Array,
  places: Places,
  joined: Joins,
  heights: Joins,
  known: ReadonlyMap<string, Network['control'][number]>,
  needsControl: boolean,
): LooseParts['loose'] {
  const isPlaced = (index: number): boolean => hasPlace[index] === 1;
  const plan = new Set<number>();
  const height = new Set<number>();
  const level = new Set<number>();
  ids.forEach((id, index) => {
    const point = known.get(id);
    if (isPlaced(index)) level.add(heights.root(index));
    if (point === undefined) return;
    if (!isPlaced(index)) {
      if (point.orthometricHeightM !== null && point.held !== 'plan') level.add(heights.root(index));
      return;
    }
    if (point.position !== null && point.held !== 'height') plan.add(joined.root(index));
    if (point.held !== 'plan') height.add(joined.root(index));
  });
  const found = new Map<string, { ids: string[]; lacks: LooseParts['loose'][number]['lacks'] }>();
  const add = (key: string, id: string, lacks: LooseParts['loose'][number]['lacks']): void => {
    const part = found.get(key);
    if (part === undefined) found.set(key, { ids: [id], lacks });
    else part.ids.push(id);
  };
  ids.forEach((id, index) => {
    if (!isPlaced(index)) {
      if (!level.has(heights.root(index))) add(`height ${heights.root(index)}`, id, 'a height');
      return;
    }
    const root = joined.root(index);
    if (Number.isNaN(places[3 * index]!)) add(`place ${root}`, id, 'a place');
    if (Number.isNaN(places[3 * index]!) || !needsControl) return;
    const lacks = !plan.has(root)
      ? height.has(root)
        ? 'a plan position'
        : 'a place'
      : height.has(root)
        ? null
        : 'a height';
    if (lacks !== null) add(`place ${root}`, id, lacks);
  });
  return [...found.values()];
}

/** Which of some things hang together. */
export interface Joins {
  readonly join: (a: number, b: number) => void;
  readonly root: (a: number) => number;
}

/** Which of some things hang together; the root of each is the least of them. */
export function createJoins(count: number): Joins {
  const up = Int32Array.from({ length: count }, (_, index) => index);
  const root = (a: number): number => {
    let at = a;
    while (up[at]! !== at) {
      up[at] = up[up[at]!]!;
      at = up[at]!;
    }
    return at;
  };
  return {
    root,
    join(a, b) {
      const [x, y] = [root(a), root(b)];
      up[Math.max(x, y)] = Math.min(x, y);
    },
  };
}
