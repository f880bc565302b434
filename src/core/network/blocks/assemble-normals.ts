import { rowsOf } from './block-equations.js';
import type { BlockEquations } from './block-equations.js';
import type { BlockFactor } from './block-factor.js';
import { entryOf } from './elimination-order.js';

/** Adds Aᵀ P A of the observations from one to before another. */
export function assemble(equations: BlockEquations, factor: BlockFactor, first: number, end: number): void {
  const { order, diagonalStarts, lowerStarts, panels } = factor;
  const { termStarts, termBlocks } = equations;
  for (let index = first; index < end; index += 1)
    for (let t = termStarts[index]!; t < termStarts[index + 1]!; t += 1) {
      const column = order.placeOf[termBlocks[t]!]!;
      for (let u = termStarts[index]!; u < termStarts[index + 1]!; u += 1) {
        const row = order.placeOf[termBlocks[u]!]!;
        if (row === column) addNormal(equations, index, u, t, panels.diagonal, diagonalStarts[column]!);
        else if (row > column)
          addNormal(
            equations,
            index,
            u,
            t,
            panels.lower,
            lowerStarts[entryOf(order, column, row, order.belowStarts[column]!)]!,
          );
      }
    }
}

/** Adds A_uᵀ P A_t of two terms of an observation. */
function addNormal(
  equations: BlockEquations,
  index: number,
  u: number,
  t: number,
  target: Float64Array,
  start: number,
): void {
  const { sizes, termBlocks, termFactors, termMatrices, matrices, weightStarts, weights } = equations;
  const m = rowsOf(equations, index);
  const weightAt = weightStarts[index]!;
  const [first, second] = [termMatrices[u]!, termMatrices[t]!];
  const factor = (first < 0 ? termFactors[u]! : 1) * (second < 0 ? termFactors[t]! : 1);
  if (first < 0 && second < 0) {
    if (m === 3) addTimes9(target, start, weights, weightAt, factor);
    else for (let at = 0; at < m * m; at += 1) target[start + at]! += factor * weights[weightAt + at]!;
    return;
  }
  const rows = sizes[termBlocks[u]!]!;
  const columns = sizes[termBlocks[t]!]!;
  for (let a = 0; a < rows; a += 1)
    for (let c = 0; c < columns; c += 1) {
      let sum = 0;
      for (let r = first < 0 ? a : 0; r < (first < 0 ? a + 1 : m); r += 1)
        for (let s = second < 0 ? c : 0; s < (second < 0 ? c + 1 : m); s += 1)
          sum +=
            (first < 0 ? 1 : matrices[first + r * rows + a]!) *
            weights[weightAt + r * m + s]! *
            (second < 0 ? 1 : matrices[second + s * columns + c]!);
      target[start + a * columns + c]! += factor * sum;
    }
}

/** Adds nine numbers, times a factor. */
function addTimes9(target: Float64Array, start: number, from: Float64Array, at: number, factor: number): void {
  target[start]! += factor * from[at]!;
  target[start + 1]! += factor * from[at + 1]!;
  target[start + 2]! += factor * from[at + 2]!;
  target[start + 3]! += factor * from[at + 3]!;
  target[start + 4]! += factor * from[at + 4]!;
  target[start + 5]! += factor * from[at + 5]!;
  target[start + 6]! += factor * from[at + 6]!;
  target[start + 7]! += factor * from[at + 7]!;
  target[start + 8]! += factor * from[at + 8]!;
}
