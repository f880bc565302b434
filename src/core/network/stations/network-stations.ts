import { geocentricToGeodetic } from '../../ellipsoid/geocentric.js';
import { localFrameAt } from '../../ellipsoid/local-frame.js';
import type { LocalFrame } from '../../ellipsoid/local-frame.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { entryAt, present } from '../../../records/present.js';
import { createJoins, looseParts } from './loose-parts.js';
import type { LooseParts } from './loose-parts.js';
import type { Network } from '../network.js';
import { placeAt, spreadHeights, spreadPlaces } from './spread-places.js';

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
  readonly ends: NetworkEnds;
}

/** Of each observation of a kind, in the network's order, the station it starts from and the one it goes to. */
export type NetworkEnds = Readonly<Record<'vectors' | 'levelled' | 'distances', Int32Array>>;

/**
 * The stations of a network with approximate values, from the control through the vectors.
 *
 * Given: the network; whether each part must be held by control in plan and height
 * (else one known position in each, to begin at, is enough).
 * Returned: the stations, or the parts that are loose, each with the names of its stations in order.
 * Note: a station that only levelling and heights meet has one unknown, its height; whatever else meets it makes a place of it.
 */
export function networkStations(network: Network, needsControl: boolean): StationList | LooseParts {
  const { levelled, control, ellipsoid } = network;
  const { ids, indexOf, hasPlace, ends } = namesOf(network);
  const joined = createJoins(ids.length);
  for (let at = 0; at < ends.vectors.length; at += 2) joined.join(ends.vectors[at]!, ends.vectors[at + 1]!);
  const heights = createJoins(ids.length);
  for (let at = 0; at < ends.levelled.length; at += 2) heights.join(ends.levelled[at]!, ends.levelled[at + 1]!);
  const known = new Map(control.map((point) => [point.id, point]));
  const positions = spreadPlaces(network, ids, ends.vectors, (id) => known.get(id)?.position ?? null);
  const heightsOf = spreadHeights(
    levelled,
    ids.map((id, index) => (hasPlace[index] === 1 ? 0 : (known.get(id)?.orthometricHeightM ?? null))),
    ends.levelled,
  );
  const loose = looseParts(ids, hasPlace, positions, joined, heights, known, needsControl);
  if (loose.length > 0) return { loose };
  const tied = new Set<number>();
  for (let index = 0; index < ids.length; index += 1) if (hasPlace[index] === 1) tied.add(heights.root(index));
  const numbers = new Map<number, number>();
  /** Parts of places by their least station, of heights by the least of theirs, below zero. */
  const partOf = (key: number): number => {
    const given = numbers.get(key) ?? numbers.size;
    numbers.set(key, given);
    return given;
  };
  const stations = ids.map((id, index): NetworkStation => {
    if (hasPlace[index] === 0) {
      const root = heights.root(index);
      return {
        id,
        place: null,
        heightM: present(heightsOf[index], 'the height of a station that something ties'),
        part: tied.has(root) ? null : partOf(-1 - root),
      };
    }
    const position = placeAt(positions, index);
    const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(position, ellipsoid);
    const frame = localFrameAt(latitudeDeg, longitudeDeg);
    return { id, place: { position, frame }, heightM: 0, part: partOf(joined.root(index)) };
  });
  return { stations, indexOf, parts: numbers.size, ends };
}

interface Names {
  readonly ids: readonly string[];
  readonly indexOf: ReadonlyMap<string, number>;
  /** 1: more than heights are known of the station. */
  readonly hasPlace: Uint8Array;
  readonly ends: NetworkEnds;
}

/** The names that the observations meet, in order. */
function namesOf({ vectors, levelled, distances }: Network): Names {
  const names = new Set<string>();
  for (const list of [vectors, distances, levelled]) {
    // Many start from one station, one after the other.
    let before: string | null = null;
    for (const { fromId, toId } of list) {
      if (fromId !== before) names.add(fromId);
      names.add(toId);
      before = fromId;
    }
  }
  const ids = [...names].sort();
  const indexOf = new Map<string, number>();
  for (let index = 0; index < ids.length; index += 1) indexOf.set(entryAt(ids, index), index);
  const endsOf = (list: readonly { readonly fromId: string; readonly toId: string }[]): Int32Array => {
    const ends = new Int32Array(2 * list.length);
    let at = 0;
    let before: string | null = null;
    let start = 0;
    for (const { fromId, toId } of list) {
      if (fromId !== before) start = indexOf.get(fromId) as number;
      before = fromId;
      ends[at] = start;
      ends[at + 1] = indexOf.get(toId) as number;
      at += 2;
    }
    return ends;
  };
  const ends = { vectors: endsOf(vectors), levelled: endsOf(levelled), distances: endsOf(distances) };
  const hasPlace = new Uint8Array(ids.length);
  for (const list of [ends.vectors, ends.distances]) for (const index of list) hasPlace[index] = 1;
  return { ids, indexOf, hasPlace, ends };
}
