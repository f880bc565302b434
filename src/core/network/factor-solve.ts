import { startsOf } from './block-equations.js';
import { rowsAt } from './block-factor.js';
import type { BlockFactor, BlockPanels } from './block-factor.js';

/**
 * x with N x = b. Given: the factor; b, in the order of the blocks as they were given (left as it is). Returned: x, likewise.
 */
export function solveFactored(factor: BlockFactor, right: Float64Array): Float64Array {
  const { order, sizes, widths, offsets, panels } = factor;
  const starts = startsOf(sizes);
  const x = Float64Array.from(right);
  const startAt = (place: number): number => starts[order.blockAt[place]!]!;
  const each = (k: number, visit: (target: number, panelRow: number) => void): void => {
    const below = order.below[k]!;
    for (let i = 0; i < below.length; i += 1) {
      const place = below[i]!;
      const target = startAt(place);
      for (let a = 0; a < widths[place]!; a += 1) visit(target + a, offsets[k]![i]! + a);
    }
  };
  for (let k = 0; k < widths.length; k += 1) {
    const width = widths[k]!;
    const own = startAt(k);
    const panel = panels.lower[k]!;
    each(k, (target, row) => {
      let sum = 0;
      for (let s = 0; s < width; s += 1) sum += panel[row * width + s]! * x[own + s]!;
      x[target]! -= sum;
    });
  }
  const scaled = new Float64Array(16);
  for (let k = widths.length - 1; k >= 0; k -= 1) {
    const width = widths[k]!;
    const own = startAt(k);
    const panel = panels.lower[k]!;
    const inverse = panels.diagonal[k]!;
    for (let r = 0; r < width; r += 1) {
      let sum = 0;
      for (let s = 0; s < width; s += 1) sum += inverse[r * width + s]! * x[own + s]!;
      scaled[r] = sum;
    }
    each(k, (target, row) => {
      for (let s = 0; s < width; s += 1) scaled[s]! -= panel[row * width + s]! * x[target]!;
    });
    for (let r = 0; r < width; r += 1) x[own + r] = scaled[r]!;
  }
  return x;
}

/**
 * The entries of Q = N⁻¹ in the places that the factor fills, without the rest of the inverse: whatever meets in one observation
 * is among them. Reference: TAKAHASHI-1973 (from memory).
 */
export function selectedInverse({ order, widths, offsets, panels }: BlockFactor): BlockPanels {
  const diagonal = panels.diagonal.map((block) => Float64Array.from(block));
  const lower = panels.lower.map((block) => new Float64Array(block.length));
  for (let k = widths.length - 1; k >= 0; k -= 1) {
    const width = widths[k]!;
    const below = order.below[k]!;
    const start = offsets[k]!;
    const l = panels.lower[k]!;
    const z = lower[k]!;
    // Z of the later blocks times L of this one: each block of them counts once on the diagonal, else on both sides.
    for (let j = 0; j < below.length; j += 1) {
      const column = below[j]!;
      const columnWidth = widths[column]!;
      const columnBelow = order.below[column]!;
      const columnStart = offsets[column]!;
      const zDiagonal = diagonal[column]!;
      const zLower = lower[column]!;
      const rowJ = start[j]!;
      for (let a = 0; a < columnWidth; a += 1) {
        for (let c = 0; c < width; c += 1) {
          let sum = 0;
          for (let b = 0; b < columnWidth; b += 1) sum += zDiagonal[a * columnWidth + b]! * l[(rowJ + b) * width + c]!;
          z[(rowJ + a) * width + c]! -= sum;
        }
      }
      let at = 0;
      for (let i = j + 1; i < below.length; i += 1) {
        while (columnBelow[at]! < below[i]!) at += 1;
        const first = columnStart[at]!;
        const rows = widths[below[i]!]!;
        const rowI = start[i]!;
        for (let a = 0; a < rows; a += 1) {
          for (let b = 0; b < columnWidth; b += 1) {
            const value = zLower[(first + a) * columnWidth + b]!;
            for (let c = 0; c < width; c += 1) {
              z[(rowI + a) * width + c]! -= value * l[(rowJ + b) * width + c]!;
              z[(rowJ + b) * width + c]! -= value * l[(rowI + a) * width + c]!;
            }
          }
        }
      }
    }
    const own = diagonal[k]!;
    const rows = start.at(-1)!;
    for (let r = 0; r < rows; r += 1) {
      for (let a = 0; a < width; a += 1) {
        for (let c = 0; c < width; c += 1) own[a * width + c]! -= l[r * width + a]! * z[r * width + c]!;
      }
    }
  }
  return { diagonal, lower };
}

/** Block (a, b) of a matrix that is known in the places of the factor, row by row into `into`; both blocks as they were given. */
export function blockOf(factor: BlockFactor, panels: BlockPanels, a: number, b: number, into: Float64Array): void {
  const { order, widths } = factor;
  const i = order.placeOf[a]!;
  const j = order.placeOf[b]!;
  const rows = widths[i]!;
  const columns = widths[j]!;
  if (i === j) {
    into.set(panels.diagonal[i]!);
    return;
  }
  const isLower = i > j;
  const panel = panels.lower[isLower ? j : i]!;
  const start = isLower ? rowsAt(factor, j, i) : rowsAt(factor, i, j);
  for (let r = 0; r < rows; r += 1) {
    for (let c = 0; c < columns; c += 1)
      into[r * columns + c] = isLower ? panel[(start + r) * columns + c]! : panel[(start + c) * rows + r]!;
  }
}

/** Whether the factor fills the block of two places. */
export function hasBlock({ order }: BlockFactor, first: number, second: number): boolean {
  if (first === second) return true;
  const below = order.below[Math.min(first, second)]!;
  const wanted = Math.max(first, second);
  let low = 0;
  let high = below.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (below[middle]! < wanted) low = middle + 1;
    else high = middle;
  }
  return below[low] === wanted;
}

/** L⁻¹ times the unit columns of one block: what of it is not zero, by place. */
export type BlockPath = ReadonlyMap<number, Float64Array>;

/** The path of a block, from which `crossCofactor` makes its part of Q with any other: few numbers, however many points there are. */
export function pathOf({ order, widths, offsets, panels }: BlockFactor, block: number): BlockPath {
  const place = order.placeOf[block]!;
  const columns = widths[place]!;
  const path = new Map<number, Float64Array>();
  const unit = new Float64Array(columns * columns);
  for (let c = 0; c < columns; c += 1) unit[c * columns + c] = 1;
  path.set(place, unit);
  for (let k: number | undefined = place; k !== undefined; k = order.below[k]![0]) {
    const own = path.get(k)!;
    const width = widths[k]!;
    const panel = panels.lower[k]!;
    order.below[k]!.forEach((later, i) => {
      const rows = widths[later]!;
      let target = path.get(later);
      if (target === undefined) path.set(later, (target = new Float64Array(rows * columns)));
      const start = offsets[k]![i]!;
      for (let a = 0; a < rows; a += 1) {
        for (let c = 0; c < columns; c += 1) {
          let sum = 0;
          for (let s = 0; s < width; s += 1) sum += panel[(start + a) * width + s]! * own[s * columns + c]!;
          target[a * columns + c]! -= sum;
        }
      }
    });
  }
  return path;
}

/** Q of two blocks, row by row: the rows of the first, the columns of the second. */
export function crossCofactor({ widths, panels }: BlockFactor, first: BlockPath, second: BlockPath): Float64Array {
  const rows = widthOf(first);
  const columns = widthOf(second);
  const sum = new Float64Array(rows * columns);
  const [few, many] = first.size <= second.size ? [first, second] : [second, first];
  for (const place of few.keys()) {
    if (!many.has(place)) continue;
    const a = first.get(place)!;
    const b = second.get(place)!;
    const width = widths[place]!;
    const inverse = panels.diagonal[place]!;
    for (let s = 0; s < width; s += 1) {
      for (let t = 0; t < width; t += 1) {
        const d = inverse[s * width + t]!;
        for (let r = 0; r < rows; r += 1)
          for (let c = 0; c < columns; c += 1) sum[r * columns + c]! += a[s * rows + r]! * d * b[t * columns + c]!;
      }
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
  return Math.round(Math.sqrt(unit!.length));
}
