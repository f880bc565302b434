import type { GeocentricPoint } from '../../../records/points/point.js';
import { entryAt } from '../../../records/present.js';
import type { Network } from '../network.js';

/** X, Y, Z of station after station, metres; NaN where nothing gives a place. */
export type Places = Float64Array;

/** The place of a station. */
export function placeAt(places: Places, index: number): GeocentricPoint {
  return { xM: places[3 * index]!, yM: places[3 * index + 1]!, zM: places[3 * index + 2]! };
}

/** Positions from those known, through the vectors, nearest first. */
export function spreadPlaces(
  { vectors }: Network,
  ids: readonly string[],
  ends: Int32Array,
  knownAt: (id: string) => GeocentricPoint | null,
): Places {
  const places = new Float64Array(3 * ids.length).fill(NaN);
  const put = (index: number, xM: number, yM: number, zM: number): void => {
    places[3 * index] = xM;
    places[3 * index + 1] = yM;
    places[3 * index + 2] = zM;
  };
  ids.forEach((id, index) => {
    const known = knownAt(id);
    if (known !== null) put(index, known.xM, known.yM, known.zM);
  });
  spread(
    ids.length,
    ends,
    (index) => !Number.isNaN(places[3 * index]!),
    (index, other, line, sign) => {
      const { difference } = entryAt(vectors, line);
      const { xM, yM, zM } = placeAt(places, index);
      put(other, xM + sign * difference.xM, yM + sign * difference.yM, zM + sign * difference.zM);
    },
  );
  return places;
}

/** Heights from those known, through the levelled differences, nearest first; null where none is known. */
export function spreadHeights(
  levelled: Network['levelled'],
  known: readonly (number | null)[],
  ends: Int32Array,
): readonly (number | null)[] {
  const found = [...known];
  spread(
    known.length,
    ends,
    (index) => found[index] !== null,
    (index, other, line, sign) => {
      found[other] = entryAt(found, index)! + sign * entryAt(levelled, line).differenceM;
    },
  );
  return found;
}

/** Goes along lines from stations that have a value to those that have none, nearest first, of equals in the order of the lines. */
function spread(
  count: number,
  ends: Int32Array,
  has: (index: number) => boolean,
  give: (from: number, to: number, line: number, sign: 1 | -1) => void,
): void {
  const starts = new Int32Array(count + 1);
  for (const index of ends) starts[index + 1]! += 1;
  for (let index = 0; index < count; index += 1) starts[index + 1]! += starts[index]!;
  const fill = starts.slice();
  const own = new Int32Array(ends.length);
  for (let at = 0; at < ends.length; at += 1) {
    const index = ends[at]!;
    own[fill[index]!] = at;
    fill[index]! += 1;
  }
  const queue = new Int32Array(count);
  let waiting = 0;
  for (let index = 0; index < count; index += 1)
    if (has(index)) {
      queue[waiting] = index;
      waiting += 1;
    }
  for (let next = 0; next < waiting; next += 1) {
    const index = queue[next]!;
    for (let k = starts[index]!; k < starts[index + 1]!; k += 1) {
      const at = own[k]!;
      const other = ends[at ^ 1]!;
      if (has(other)) continue;
      give(index, other, at >> 1, at % 2 === 0 ? 1 : -1);
      queue[waiting] = other;
      waiting += 1;
    }
  }
}
