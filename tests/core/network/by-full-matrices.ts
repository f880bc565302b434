import type { BlockEquations } from '../../../src/core/network/blocks/block-equations.js';
import { observationAt } from '../../../src/core/network/blocks/block-equations.js';
import { choleskyFactor, choleskyInverse } from '../../../src/core/numeric/linear-solve.js';

/** A solution by full matrices, for what is small enough: nothing of blocks, orders or factors. */
export interface FullSolution {
  readonly unknowns: Float64Array;
  /** N⁻¹, row by row. */
  readonly cofactor: Float64Array;
  readonly weightedSquares: number;
  readonly size: number;
}

/** Solves equations in blocks as one full system. */
export function byFullMatrices(equations: BlockEquations): FullSolution {
  const { sizes, starts, count } = equations;
  const observations = Array.from({ length: count }, (_, index) => observationAt(equations, index));
  const u = starts.at(-1)!;
  const normal = new Float64Array(u * u);
  const right = new Float64Array(u);
  const rows: { readonly a: Float64Array; readonly l: number }[][] = [];
  for (const { terms, observed, weight } of observations) {
    const m = observed.length;
    const own = Array.from({ length: m }, (_, r) => ({ a: new Float64Array(u), l: observed[r]! }));
    for (const term of terms) {
      const size = sizes[term.block]!;
      for (let r = 0; r < m; r += 1)
        for (let c = 0; c < size; c += 1)
          own[r]!.a[starts[term.block]! + c]! +=
            term.matrix === null ? (r === c ? term.factor : 0) : term.matrix[r * size + c]!;
    }
    rows.push(own);
    for (let r = 0; r < m; r += 1)
      for (let s = 0; s < m; s += 1)
        for (let i = 0; i < u; i += 1) {
          if (own[r]!.a[i] === 0) continue;
          right[i]! += own[r]!.a[i]! * weight[r * m + s]! * own[s]!.l;
          for (let j = 0; j < u; j += 1) normal[i * u + j]! += own[r]!.a[i]! * weight[r * m + s]! * own[s]!.a[j]!;
        }
  }
  const cofactor = choleskyInverse(choleskyFactor(normal, u)!, u);
  const unknowns = Float64Array.from({ length: u }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < u; j += 1) sum += cofactor[i * u + j]! * right[j]!;
    return sum;
  });
  let weightedSquares = 0;
  observations.forEach(({ observed, weight }, k) => {
    const m = observed.length;
    const v = rows[k]!.map(({ a, l }) => a.reduce((sum, value, i) => sum + value * unknowns[i]!, 0) - l);
    for (let r = 0; r < m; r += 1) for (let s = 0; s < m; s += 1) weightedSquares += v[r]! * weight[r * m + s]! * v[s]!;
  });
  return { unknowns, cofactor, weightedSquares, size: u };
}
