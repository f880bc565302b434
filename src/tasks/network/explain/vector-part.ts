import type { AdjustedNetwork } from '../../../core/network/adjust-network.js';
import type { BlockObservation } from '../../../core/network/blocks/block-equations.js';
import { inverse3 } from '../../../core/numeric/symmetric3.js';
import type { Symmetric3 } from '../../../core/numeric/symmetric3.js';
import { entryAt, present } from '../../../records/present.js';
import { about } from './digits.js';
import type { Part, PlacePart, Three } from './station-parts.js';

/** A weight of three by three with its covariance. */
export function weighted(weight: ArrayLike<number>): Pick<PlacePart, 'weight' | 'covariance'> {
  const [xx, xy, xz, , yy, yz, , , zz] = Array.from(weight) as [number, ...number[]];
  const c = present(inverse3({ xx, xy, xz, yy, yz, zz } as Symmetric3), 'the covariance of an observation');
  return { weight, covariance: [c.xx, c.xy, c.xz, c.yy, c.yz, c.zz] };
}

export const three = (of: (axis: number) => number): Three => [of(0), of(1), of(2)];

/** A vector as what it says of one of its ends. */
export function vectorPart(
  { network, final }: AdjustedNetwork,
  index: number,
  station: number,
  { terms, weight }: BlockObservation,
): Omit<PlacePart, keyof Part> {
  const { list, solution } = final.solved;
  const { starts } = solution.equations;
  const { difference } = entryAt(network.vectors, index);
  const [fromAt, toAt] = [list.ends.vectors[2 * index]!, list.ends.vectors[2 * index + 1]!];
  const isTo = toAt === station;
  const otherAt = isTo ? fromAt : toAt;
  const { id, place } = entryAt(list.stations, otherAt);
  const { xM, yM, zM } = present(place, 'the place of a station').position;
  const exact: Three = [xM, yM, zM];
  const near = three((axis) => about(entryAt(exact, axis)));
  const shared = [0, 0, 0];
  for (const { block, matrix, factor } of terms) {
    if (block < list.stations.length) continue;
    const from = starts[block]!;
    const columns = starts[block + 1]! - from;
    for (let r = 0; r < 3; r += 1)
      for (let c = 0; c < columns; c += 1)
        shared[r]! +=
          (matrix === null ? (r === c ? factor : 0) : matrix[r * columns + c]!) * solution.unknowns[from + c]!;
  }
  return {
    kind: 'place',
    sign: isTo ? 1 : -1,
    other: {
      id,
      about: near,
      shiftM: three((axis) => entryAt(exact, axis) - entryAt(near, axis) + solution.unknowns[starts[otherAt]! + axis]!),
    },
    measuredM: [difference.xM, difference.yM, difference.zM],
    sharedM: three((axis) => entryAt(shared, axis)),
    ...weighted(weight),
  };
}
