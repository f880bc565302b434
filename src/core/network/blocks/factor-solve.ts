import type { BlockFactor, BlockPanels } from './block-factor.js';
import { entryOf } from './elimination-order.js';
import { subtractOfTransposed3, subtractProduct3, subtractTimes3, subtractTransposedTimes3 } from './three-by-three.js';

/**
 * x with N x = b. Given: the factor; b, in the order of the blocks as they were given (left as it is). Returned: x, likewise.
 */
export function solveFactored(factor: BlockFactor, right: Float64Array): Float64Array {
  const { order, starts, widths, diagonalStarts, lowerStarts, mostWide, threes, panels } = factor;
  const { blockAt, belowStarts, below } = order;
  const { diagonal, lower } = panels;
  const x = Float64Array.from(right);
  for (let k = 0; k < widths.length; k += 1) {
    const width = widths[k]!;
    const own = starts[blockAt[k]!]!;
    for (let entry = belowStarts[k]!; entry < belowStarts[k + 1]!; entry += 1) {
      const place = below[entry]!;
      const target = starts[blockAt[place]!]!;
      const from = lowerStarts[entry]!;
      if (threes[k] === 1) {
        subtractTimes3(x, target, own, lower, from);
        continue;
      }
      for (let a = 0; a < widths[place]!; a += 1) {
        let sum = 0;
        for (let s = 0; s < width; s += 1) sum += lower[from + a * width + s]! * x[own + s]!;
        x[target + a]! -= sum;
      }
    }
  }
  const scaled = new Float64Array(mostWide);
  for (let k = widths.length - 1; k >= 0; k -= 1) {
    const width = widths[k]!;
    const own = starts[blockAt[k]!]!;
    const inverse = diagonalStarts[k]!;
    for (let r = 0; r < width; r += 1) {
      let sum = 0;
      for (let s = 0; s < width; s += 1) sum += diagonal[inverse + r * width + s]! * x[own + s]!;
      scaled[r] = sum;
    }
    for (let entry = belowStarts[k]!; entry < belowStarts[k + 1]!; entry += 1) {
      const place = below[entry]!;
      const target = starts[blockAt[place]!]!;
      const from = lowerStarts[entry]!;
      if (threes[k] === 1) {
        subtractTransposedTimes3(scaled, x, target, lower, from);
        continue;
      }
      for (let a = 0; a < widths[place]!; a += 1)
        for (let s = 0; s < width; s += 1) scaled[s]! -= lower[from + a * width + s]! * x[target + a]!;
    }
    for (let r = 0; r < width; r += 1) x[own + r] = scaled[r]!;
  }
  return x;
}

/**
 * The entries of Q = N⁻¹ in the places that the factor fills, without the rest of the inverse: whatever meets in one observation
 * is among them. Reference: TAKAHASHI-1973 (from memory).
 */
export function selectedInverse(factor: BlockFactor): BlockPanels {
  const { order, widths, diagonalStarts, lowerStarts, panels } = factor;
  const { belowStarts } = order;
  const l = panels.lower;
  const { threes } = factor;
  const z: BlockPanels = { diagonal: panels.diagonal.slice(), lower: new Float64Array(l.length) };
  for (let k = widths.length - 1; k >= 0; k -= 1) {
    const width = widths[k]!;
    // Z of the later blocks times L of this one: each block of them counts once on the diagonal, else on both sides.
    for (let j = belowStarts[k]!; j < belowStarts[k + 1]!; j += 1) addLaterColumn(factor, z, k, j);
    const own = diagonalStarts[k]!;
    const end = lowerStarts[belowStarts[k + 1]!]!;
    const begin = lowerStarts[belowStarts[k]!]!;
    if (threes[k] === 1) {
      for (let at = begin; at < end; at += 9) subtractOfTransposed3(z.diagonal, own, l, at, z.lower, at);
      continue;
    }
    for (let row = begin; row < end; row += width)
      for (let a = 0; a < width; a += 1)
        for (let c = 0; c < width; c += 1) z.diagonal[own + a * width + c]! -= l[row + a]! * z.lower[row + c]!;
  }
  return z;
}

/** −Z L of one later column of Z, for the blocks that column k holds from its entry j on, into column k of Z. */
function addLaterColumn(factor: BlockFactor, z: BlockPanels, k: number, j: number): void {
  const { order, widths, diagonalStarts, lowerStarts, panels } = factor;
  const { belowStarts, below } = order;
  const l = panels.lower;
  const width = widths[k]!;
  const column = below[j]!;
  const columnWidth = widths[column]!;
  const rowJ = lowerStarts[j]!;
  const own = diagonalStarts[column]!;
  if (factor.threes[k] === 1) {
    addLaterColumn3(factor, z, k, j);
    return;
  }
  for (let a = 0; a < columnWidth; a += 1)
    for (let c = 0; c < width; c += 1) {
      let sum = 0;
      for (let b = 0; b < columnWidth; b += 1) sum += z.diagonal[own + a * columnWidth + b]! * l[rowJ + b * width + c]!;
      z.lower[rowJ + a * width + c]! -= sum;
    }
  let entry = belowStarts[column]!;
  for (let i = j + 1; i < belowStarts[k + 1]!; i += 1) {
    entry = entryOf(order, column, below[i]!, entry);
    const first = lowerStarts[entry]!;
    const rows = widths[below[i]!]!;
    const rowI = lowerStarts[i]!;
    for (let a = 0; a < rows; a += 1)
      for (let b = 0; b < columnWidth; b += 1) {
        const value = z.lower[first + a * columnWidth + b]!;
        for (let c = 0; c < width; c += 1) {
          z.lower[rowI + a * width + c]! -= value * l[rowJ + b * width + c]!;
          z.lower[rowJ + b * width + c]! -= value * l[rowI + a * width + c]!;
        }
      }
  }
}

/** The same where all blocks are three by three. */
function addLaterColumn3(
  { order, diagonalStarts, lowerStarts, panels }: BlockFactor,
  z: BlockPanels,
  k: number,
  j: number,
): void {
  const { belowStarts, below } = order;
  const l = panels.lower;
  const column = below[j]!;
  const rowJ = lowerStarts[j]!;
  subtractProduct3(z.lower, rowJ, z.diagonal, diagonalStarts[column]!, l, rowJ);
  let entry = belowStarts[column]!;
  for (let i = j + 1; i < belowStarts[k + 1]!; i += 1) {
    entry = entryOf(order, column, below[i]!, entry);
    const first = lowerStarts[entry]!;
    const rowI = lowerStarts[i]!;
    subtractProduct3(z.lower, rowI, z.lower, first, l, rowJ);
    subtractOfTransposed3(z.lower, rowJ, z.lower, first, l, rowI);
  }
}
