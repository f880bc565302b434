import { InternalError } from '../../../records/internal-error.js';
import type { BlockFactor, BlockPanels } from './block-factor.js';
import { entryOf } from './elimination-order.js';

/** Block (a, b) of a matrix that is known in the places of the factor, row by row into `into`; both blocks as they were given. */
export function blockOf(factor: BlockFactor, panels: BlockPanels, a: number, b: number, into: Float64Array): void {
  if (!copyBlock(factor, panels, factor.order.placeOf[a]!, factor.order.placeOf[b]!, into))
    throw new InternalError('two blocks that never meet have no place in the factor');
}

/** The block of two places, row by row into `into`; false where the factor does not fill it. */
export function copyBlock(factor: BlockFactor, panels: BlockPanels, i: number, j: number, into: Float64Array): boolean {
  const { order, widths, diagonalStarts, lowerStarts } = factor;
  const rows = widths[i]!;
  const columns = widths[j]!;
  if (i === j) {
    const from = diagonalStarts[i]!;
    for (let at = 0; at < rows * rows; at += 1) into[at] = panels.diagonal[from + at]!;
    return true;
  }
  const [early, late] = i > j ? [j, i] : [i, j];
  const entry = entryOf(order, early, late, order.belowStarts[early]!);
  if (entry < 0) return false;
  const from = lowerStarts[entry]!;
  if (i > j) for (let at = 0; at < rows * columns; at += 1) into[at] = panels.lower[from + at]!;
  else
    for (let r = 0; r < rows; r += 1)
      for (let c = 0; c < columns; c += 1) into[r * columns + c] = panels.lower[from + c * rows + r]!;
  return true;
}

/** Whether the factor fills the block of two places. */
function hasBlock({ order }: BlockFactor, i: number, j: number): boolean {
  const early = Math.min(i, j);
  return i === j || entryOf(order, early, Math.max(i, j), order.belowStarts[early]!) >= 0;
}

/** L⁻¹ times the unit columns of one block: what of it is not zero, by place. */
export type BlockPath = ReadonlyMap<number, Float64Array>;

/** The path of a block, from which `crossCofactor` makes its part of Q with any other: few numbers, however many points there are. */
export function pathOf({ order, widths, lowerStarts, panels }: BlockFactor, block: number): BlockPath {
  const { belowStarts, below, placeOf } = order;
  const place = placeOf[block]!;
  const columns = widths[place]!;
  const path = new Map<number, Float64Array>();
  const unit = new Float64Array(columns * columns);
  for (let c = 0; c < columns; c += 1) unit[c * columns + c] = 1;
  path.set(place, unit);
  for (let k = place; ; k = below[belowStarts[k]!]!) {
    const own = path.get(k)!;
    const width = widths[k]!;
    for (let entry = belowStarts[k]!; entry < belowStarts[k + 1]!; entry += 1) {
      const later = below[entry]!;
      const rows = widths[later]!;
      let target = path.get(later);
      if (target === undefined) path.set(later, (target = new Float64Array(rows * columns)));
      const from = lowerStarts[entry]!;
      for (let a = 0; a < rows; a += 1)
        for (let c = 0; c < columns; c += 1) {
          let sum = 0;
          for (let s = 0; s < width; s += 1) sum += panels.lower[from + a * width + s]! * own[s * columns + c]!;
          target[a * columns + c]! -= sum;
        }
    }
    if (belowStarts[k] === belowStarts[k + 1]) return path;
  }
}

/** Q of two blocks, row by row: the rows of the first, the columns of the second. */
export function crossCofactor(
  { widths, diagonalStarts, panels }: BlockFactor,
  first: BlockPath,
  second: BlockPath,
): Float64Array {
  const rows = widthOf(first);
  const columns = widthOf(second);
  const sum = new Float64Array(rows * columns);
  const [few, many] = first.size <= second.size ? [first, second] : [second, first];
  for (const place of few.keys()) {
    const [a, b] = [first.get(place), second.get(place)];
    if (!many.has(place) || a === undefined || b === undefined) continue;
    const width = widths[place]!;
    const inverse = diagonalStarts[place]!;
    for (let s = 0; s < width; s += 1)
      for (let t = 0; t < width; t += 1) {
        const d = panels.diagonal[inverse + s * width + t]!;
        for (let r = 0; r < rows; r += 1)
          for (let c = 0; c < columns; c += 1) sum[r * columns + c]! += a[s * rows + r]! * d * b[t * columns + c]!;
      }
  }
  return sum;
}

/** The path of the mean of some blocks of one size. */
export function meanPath(paths: readonly BlockPath[]): BlockPath {
  const sum = new Map<number, Float64Array>();
  for (const path of paths)
    for (const [place, part] of path) {
      const own = sum.get(place) ?? new Float64Array(part.length);
      for (let at = 0; at < part.length; at += 1) own[at]! += part[at]! / paths.length;
      sum.set(place, own);
    }
  return sum;
}

/** Columns of a path: its first entry is of its own block, as many rows as columns. */
function widthOf(path: BlockPath): number {
  const [unit] = path.values();
  return Math.round(Math.sqrt(unit?.length ?? 0));
}

/**
 * Q of two blocks into `into`: as the selected inverse holds it; else from the blocks that the earlier one meets,
 * Q_ab = −Σ L_jaᵀ Q_jb, where it holds all those; else by the paths of both. `room` is overwritten.
 */
export function crossBlock(
  factor: BlockFactor,
  panels: BlockPanels,
  a: number,
  b: number,
  into: Float64Array,
  room: Float64Array,
): void {
  const { order, widths, lowerStarts } = factor;
  const { placeOf, belowStarts, below } = order;
  const [p, q] = [placeOf[a]!, placeOf[b]!];
  if (copyBlock(factor, panels, p, q, into)) return;
  const [early, late] = p < q ? [p, q] : [q, p];
  // Of blocks as they were asked for, row by row: what is found for the earlier as rows is turned where it stands second.
  const isTurned = p > q;
  for (let entry = belowStarts[early]!; entry < belowStarts[early + 1]!; entry += 1)
    if (!hasBlock(factor, below[entry]!, late)) {
      into.set(crossCofactor(factor, pathOf(factor, a), pathOf(factor, b)));
      return;
    }
  const [rows, columns] = [widths[early]!, widths[late]!];
  for (let at = 0; at < rows * columns; at += 1) into[at] = 0;
  for (let entry = belowStarts[early]!; entry < belowStarts[early + 1]!; entry += 1) {
    const width = widths[below[entry]!]!;
    copyBlock(factor, panels, below[entry]!, late, room);
    const from = lowerStarts[entry]!;
    for (let r = 0; r < rows; r += 1)
      for (let c = 0; c < columns; c += 1)
        for (let s = 0; s < width; s += 1)
          into[isTurned ? c * rows + r : r * columns + c]! -=
            factor.panels.lower[from + s * rows + r]! * room[s * columns + c]!;
  }
}
