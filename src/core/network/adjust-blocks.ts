import { predicted, startsOf, termRows } from './block-equations.js';
import type { BlockEquations } from './block-equations.js';
import { factorNormals } from './block-factor.js';
import type { BlockFactor, BlockPanels } from './block-factor.js';
import type { EliminationOrder } from './elimination-order.js';
import { blockOf, crossCofactor, hasBlock, pathOf, selectedInverse, solveFactored } from './factor-solve.js';

/** A least-squares solution of equations in blocks. */
export interface BlockSolution {
  readonly equations: BlockEquations;
  readonly factor: BlockFactor;
  readonly starts: Int32Array;
  /** The unknowns, block after block as they were given. */
  readonly unknowns: Float64Array;
  /** v = A x − l, observation after observation. */
  readonly residuals: Float64Array;
  /** Where the residuals of each observation begin; at the end how many there are. */
  readonly rowStarts: Int32Array;
  /** vᵀ P v, no unit. */
  readonly weightedSquares: number;
  /** Numbers observed less unknowns. */
  readonly degreesOfFreedom: number;
}

/** The solution; or the block that the observations do not determine. */
export type BlockOutcome =
  { readonly ok: true; readonly solution: BlockSolution } | { readonly ok: false; readonly block: number };

/**
 * Least squares in blocks, refined once so that no digit is lost to the normal equations.
 *
 * Given: the equations; an order of elimination found before for the same blocks, null: it is found.
 * Returned: the solution, or the block that is not determined. Reference: AITKEN-1935.
 */
export function adjustBlocks(equations: BlockEquations, order: EliminationOrder | null = null): BlockOutcome {
  const factored = factorNormals(equations, order);
  if (!factored.ok) return factored;
  const { factor } = factored;
  const { sizes, observations } = equations;
  const starts = startsOf(sizes);
  const rowStarts = startsOf(observations.map(({ observed }) => observed.length));
  const residuals = new Float64Array(rowStarts.at(-1)!);
  for (const [index, { observed }] of observations.entries())
    for (let r = 0; r < observed.length; r += 1) residuals[rowStarts[index]! + r] = -observed[r]!;
  const unknowns = new Float64Array(starts.at(-1)!);
  for (let turn = 0; turn < 2; turn += 1) {
    const step = solveFactored(factor, rightSide(equations, starts, rowStarts, residuals));
    for (let at = 0; at < step.length; at += 1) unknowns[at]! += step[at]!;
    residualsAt(equations, starts, rowStarts, unknowns, residuals);
  }
  return {
    ok: true,
    solution: {
      equations,
      factor,
      starts,
      unknowns,
      residuals,
      rowStarts,
      weightedSquares: squares(equations, rowStarts, residuals),
      degreesOfFreedom: residuals.length - unknowns.length,
    },
  };
}

/** −Aᵀ P v. */
function rightSide(
  { sizes, observations }: BlockEquations,
  starts: Int32Array,
  rowStarts: Int32Array,
  residuals: Float64Array,
): Float64Array {
  const right = new Float64Array(starts.at(-1)!);
  const weighted = new Float64Array(8);
  for (let index = 0; index < observations.length; index += 1) {
    const { terms, observed, weight } = observations[index]!;
    const m = observed.length;
    for (let r = 0; r < m; r += 1) {
      let sum = 0;
      for (let s = 0; s < m; s += 1) sum += weight[r * m + s]! * residuals[rowStarts[index]! + s]!;
      weighted[r] = sum;
    }
    for (const { block, matrix, factor } of terms) {
      const size = sizes[block]!;
      const start = starts[block]!;
      for (let c = 0; c < size; c += 1) {
        if (matrix === null) right[start + c]! -= factor * weighted[c]!;
        else for (let r = 0; r < m; r += 1) right[start + c]! -= matrix[r * size + c]! * weighted[r]!;
      }
    }
  }
  return right;
}

function residualsAt(
  { sizes, observations }: BlockEquations,
  starts: Int32Array,
  rowStarts: Int32Array,
  unknowns: Float64Array,
  into: Float64Array,
): void {
  const computed = new Float64Array(8);
  for (let index = 0; index < observations.length; index += 1) {
    const observation = observations[index]!;
    predicted(observation, sizes, starts, unknowns, computed);
    for (let r = 0; r < observation.observed.length; r += 1)
      into[rowStarts[index]! + r] = computed[r]! - observation.observed[r]!;
  }
}

function squares({ observations }: BlockEquations, rowStarts: Int32Array, residuals: Float64Array): number {
  let sum = 0;
  for (let index = 0; index < observations.length; index += 1) {
    const { observed, weight } = observations[index]!;
    const m = observed.length;
    for (let r = 0; r < m; r += 1) {
      for (let s = 0; s < m; s += 1)
        sum += residuals[rowStarts[index]! + r]! * weight[r * m + s]! * residuals[rowStarts[index]! + s]!;
    }
  }
  return sum;
}

/** Covariances after an adjustment, in the squared unit of the observations when the weights are right. */
export interface BlockCofactors {
  /** Q of two blocks that meet in an observation (or of one with itself), row by row into `into`. */
  readonly ofBlocks: (a: number, b: number, into: Float64Array) => void;
  /** Q of any two blocks, row by row. Cheap where each block meets few others, and those meet each other. */
  readonly between: (a: number, b: number) => Float64Array;
  /** A Q Aᵀ of one observation, row by row: the covariance of what it comes out at. */
  readonly ofObservation: (index: number) => Float64Array;
  /** Q_s Aᵀ of one observation with one of its blocks: the rows of the block, the columns of the observation. */
  readonly acrossTo: (block: number, index: number) => Float64Array;
}

/** The covariances of a solution. Costs about as much as the solution. */
export function blockCofactors({ equations, factor }: BlockSolution): BlockCofactors {
  const panels: BlockPanels = selectedInverse(factor);
  const { sizes, observations } = equations;
  const q = new Float64Array(64);
  const rows = new Float64Array(64);
  const acrossTo = (block: number, index: number): Float64Array => {
    const { terms, observed } = observations[index]!;
    const m = observed.length;
    const own = sizes[block]!;
    const across = new Float64Array(own * m);
    for (const term of terms) {
      const size = sizes[term.block]!;
      blockOf(factor, panels, block, term.block, q);
      termRows(term, m, size, rows);
      for (let a = 0; a < own; a += 1) {
        for (let r = 0; r < m; r += 1) {
          let sum = 0;
          for (let c = 0; c < size; c += 1) sum += q[a * size + c]! * rows[r * size + c]!;
          across[a * m + r]! += sum;
        }
      }
    }
    return across;
  };
  return {
    ofBlocks: (a, b, into) => blockOf(factor, panels, a, b, into),
    between: (a, b) => crossBlock(factor, panels, a, b),
    acrossTo,
    ofObservation(index) {
      const { terms, observed } = observations[index]!;
      const m = observed.length;
      const fitted = new Float64Array(m * m);
      for (const term of terms) {
        const size = sizes[term.block]!;
        const across = acrossTo(term.block, index);
        termRows(term, m, size, rows);
        for (let r = 0; r < m; r += 1) {
          for (let s = 0; s < m; s += 1) {
            let sum = 0;
            for (let c = 0; c < size; c += 1) sum += rows[r * size + c]! * across[c * m + s]!;
            fitted[r * m + s]! += sum;
          }
        }
      }
      return fitted;
    },
  };
}

/**
 * Q of two blocks: as the selected inverse holds it; else from the blocks that the earlier one meets, Q_ab = −Σ L_jaᵀ Q_jb, where
 * it holds all those; else by the paths of both.
 */
function crossBlock(factor: BlockFactor, panels: BlockPanels, a: number, b: number): Float64Array {
  const { order, widths, offsets } = factor;
  const [p, q] = [order.placeOf[a]!, order.placeOf[b]!];
  const [rows, columns] = [widths[p]!, widths[q]!];
  const found = new Float64Array(rows * columns);
  if (hasBlock(factor, p, q)) {
    blockOf(factor, panels, a, b, found);
    return found;
  }
  if (p > q) return transposed(crossBlock(factor, panels, b, a), columns, rows);
  const below = order.below[p]!;
  if (!below.every((place) => hasBlock(factor, place, q)))
    return crossCofactor(factor, pathOf(factor, a), pathOf(factor, b));
  const part = new Float64Array(64);
  const lower = factor.panels.lower[p]!;
  for (let k = 0; k < below.length; k += 1) {
    const width = widths[below[k]!]!;
    blockOf(factor, panels, order.blockAt[below[k]!]!, b, part);
    const start = offsets[p]![k]!;
    for (let r = 0; r < rows; r += 1)
      for (let c = 0; c < columns; c += 1)
        for (let s = 0; s < width; s += 1)
          found[r * columns + c]! -= lower[(start + s) * rows + r]! * part[s * columns + c]!;
  }
  return found;
}

function transposed(matrix: Float64Array, rows: number, columns: number): Float64Array {
  return Float64Array.from(
    { length: matrix.length },
    (_, at) => matrix[(at % rows) * columns + Math.floor(at / rows)]!,
  );
}
