import { geocentricToGeodetic } from '../ellipsoid/geocentric.js';
import { localFrameAt } from '../ellipsoid/local-frame.js';
import type { LocalFrame } from '../ellipsoid/local-frame.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { Network } from './network.js';

/** A station with what it is computed from. */
export interface NetworkStation {
  readonly id: string;
  /** Null: only heights are known of it, and its one unknown is its orthometric height. */
  readonly place: { readonly position: GeocentricPoint; readonly frame: LocalFrame } | null;
  /** Of a station without a place; else 0. */
  readonly heightM: number;
  /** Which of the parts of `StationList` it hangs in; null: levelling hangs it on a station with a place. */
  readonly part: number | null;
}

/** The stations, in the order of their names; and how many parts there are, each of which needs a datum of its own. */
export interface StationList {
  readonly stations: readonly NetworkStation[];
  readonly indexOf: ReadonlyMap<string, number>;
  readonly parts: number;
}

/** Stations that nothing ties to a known place or height, part by part. */
export interface LooseParts {
  readonly loose: readonly {
    readonly ids: readonly string[];
    readonly lacks: 'a place' | 'a height' | 'a plan position';
  }[];
}

/**
 * The stations of a network with approximate values, from the control through the vectors.
 *
 * Given: the network; whether each part must be held by control in plan and height
 * (else one known position in each, to begin at, is enough).
 * Returned: the stations, or the parts that are loose, each with the names of its stations in order.
 * Note: a station that only levelling and heights meet has one unknown, its height; whatever else meets it makes a place of it.
 */
export function networkStations(network: Network, needsControl: boolean): StationList | LooseParts {
  const { vectors, levelled, distances, control, ellipsoid } = network;
  const hasPlace = new Set<string>();
  for (const { fromId, toId } of [...vectors, ...distances]) {
    hasPlace.add(fromId);
    hasPlace.add(toId);
  }
  const names = new Set(hasPlace);
  for (const { fromId, toId } of levelled) {
    names.add(fromId);
    names.add(toId);
  }
  const ids = [...names].sort();
  const indexOf = new Map(ids.map((id, index) => [id, index]));
  const joined = createJoins(ids.length);
  const meets: { readonly other: number; readonly by: GeocentricPoint; readonly sign: 1 | -1 }[][] = ids.map(() => []);
  for (const { fromId, toId, difference } of vectors) {
    const from = indexOf.get(fromId)!;
    const to = indexOf.get(toId)!;
    joined.join(from, to);
    meets[from]!.push({ other: to, by: difference, sign: 1 });
    meets[to]!.push({ other: from, by: difference, sign: -1 });
  }
  const heights = createJoins(ids.length);
  const levels: { readonly other: number; readonly byM: number }[][] = ids.map(() => []);
  for (const { fromId, toId, differenceM } of levelled) {
    const from = indexOf.get(fromId)!;
    const to = indexOf.get(toId)!;
    heights.join(from, to);
    levels[from]!.push({ other: to, byM: differenceM });
    levels[to]!.push({ other: from, byM: -differenceM });
  }
  const known = new Map(control.map((point) => [point.id, point]));
  const positions = spreadPlaces(ids, meets, (id) => known.get(id)?.position ?? null);
  const heightsOf = spreadHeights(ids, levels, (id) =>
    hasPlace.has(id) ? 0 : (known.get(id)?.orthometricHeightM ?? null),
  );
  const loose = looseParts(ids, hasPlace, positions, joined, heights, known, needsControl);
  if (loose.length > 0) return { loose };
  const tied = new Set(ids.flatMap((id, index) => (hasPlace.has(id) ? [heights.root(index)] : [])));
  const numbers = new Map<string, number>();
  const partOf = (key: string): number => {
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, numbers.size);
    return numbers.size - 1;
  };
  const stations = ids.map((id, index): NetworkStation => {
    const position = hasPlace.has(id) ? positions[index]! : null;
    if (position === null) {
      const root = heights.root(index);
      return {
        id,
        place: null,
        heightM: heightsOf[index] ?? 0,
        part: tied.has(root) ? null : partOf(`height ${root}`),
      };
    }
    const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(position, ellipsoid);
    const frame = localFrameAt(latitudeDeg, longitudeDeg);
    return { id, place: { position, frame }, heightM: 0, part: partOf(`place ${joined.root(index)}`) };
  });
  return { stations, indexOf, parts: numbers.size };
}

/** Positions from those known, through the vectors, nearest first. */
function spreadPlaces(
  ids: readonly string[],
  meets: readonly (readonly { readonly other: number; readonly by: GeocentricPoint; readonly sign: 1 | -1 }[])[],
  knownAt: (id: string) => GeocentricPoint | null,
): readonly (GeocentricPoint | null)[] {
  const positions = ids.map(knownAt);
  const queue = ids.flatMap((_, index) => (positions[index] === null ? [] : [index]));
  for (let at = 0; at < queue.length; at += 1) {
    const index = queue[at]!;
    const { xM, yM, zM } = positions[index]!;
    for (const { other, by, sign } of meets[index]!) {
      if (positions[other] !== null) continue;
      positions[other] = { xM: xM + sign * by.xM, yM: yM + sign * by.yM, zM: zM + sign * by.zM };
      queue.push(other);
    }
  }
  return positions;
}

function spreadHeights(
  ids: readonly string[],
  levels: readonly (readonly { readonly other: number; readonly byM: number }[])[],
  knownAt: (id: string) => number | null,
): readonly (number | null)[] {
  const found = ids.map(knownAt);
  const queue = ids.flatMap((_, index) => (found[index] === null ? [] : [index]));
  for (let at = 0; at < queue.length; at += 1) {
    const index = queue[at]!;
    for (const { other, byM } of levels[index]!) {
      if (found[other] !== null) continue;
      found[other] = found[index]! + byM;
      queue.push(other);
    }
  }
  return found;
}

/** The parts that lack what would tie them: of places a plan position and a height, of heights a height or a station with a place. */
function looseParts(
  ids: readonly string[],
  hasPlace: ReadonlySet<string>,
  positions: readonly (GeocentricPoint | null)[],
  joined: Joins,
  heights: Joins,
  known: ReadonlyMap<string, Network['control'][number]>,
  needsControl: boolean,
): LooseParts['loose'] {
  const plan = new Set<number>();
  const height = new Set<number>();
  const level = new Set<number>();
  ids.forEach((id, index) => {
    const point = known.get(id);
    if (hasPlace.has(id)) level.add(heights.root(index));
    if (point === undefined) return;
    if (!hasPlace.has(id)) {
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
    if (!hasPlace.has(id)) {
      if (!level.has(heights.root(index))) add(`height ${heights.root(index)}`, id, 'a height');
      return;
    }
    const root = joined.root(index);
    if (positions[index] === null) add(`place ${root}`, id, 'a place');
    if (positions[index] === null || !needsControl) return;
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

interface Joins {
  readonly join: (a: number, b: number) => void;
  readonly root: (a: number) => number;
}

/** Which of some things hang together; the root of each is the least of them. */
function createJoins(count: number): Joins {
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
