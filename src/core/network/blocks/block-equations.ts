/** What one observation has to do with one block of unknowns. */
export interface BlockTerm {
  /** Place of the block in `BlockEquations.sizes`. */
  readonly block: number;
  /** Rows of A for this block, row by row; null: `factor` times the identity, where the block is as large as the observation. */
  readonly matrix: ArrayLike<number> | null;
  readonly factor: number;
}

/** Some numbers observed together, which correlate among themselves and with no others: one observation by itself. */
export interface BlockObservation {
  readonly terms: readonly BlockTerm[];
  /** Observed minus computed from the approximate values, in the unit of the observations. */
  readonly observed: ArrayLike<number>;
  /** Inverse of the covariance of these numbers, row by row. */
  readonly weight: ArrayLike<number>;
}

/**
 * Observation equations l + v = A x in blocks: unknowns come in blocks of a few (a place has three, a constant one), and each
 * observation, of one to three numbers, meets few of them. What is known of an unknown beforehand is an observation of it.
 *
 * A million points make some million observations: all numbers of one kind stand in one array, one observation after the other.
 */
export interface BlockEquations {
  /** Unknowns in each block. */
  readonly sizes: Int32Array;
  /** Where the unknowns of each block begin in one list of all, and at the end how many there are. */
  readonly starts: Int32Array;
  /** How many observations there are. */
  readonly count: number;
  /** Where the numbers of each observation begin in `observed`, and at the end how many there are. */
  readonly rowStarts: Int32Array;
  readonly observed: Float64Array;
  /** Where the weight of each observation begins in `weights`. */
  readonly weightStarts: Int32Array;
  readonly weights: Float64Array;
  /** Where the terms of each observation begin in the three arrays that follow, and at the end how many there are. */
  readonly termStarts: Int32Array;
  readonly termBlocks: Int32Array;
  readonly termFactors: Float64Array;
  /** Where the rows of A of a term begin in `matrices`; −1: its factor times the identity. */
  readonly termMatrices: Int32Array;
  readonly matrices: Float64Array;
}

/** Where the unknowns of each block begin in one list of all, and at the end how many there are. */
export function startsOf(sizes: ArrayLike<number>): Int32Array {
  const starts = new Int32Array(sizes.length + 1);
  for (let block = 0; block < sizes.length; block += 1) starts[block + 1] = starts[block]! + sizes[block]!;
  return starts;
}

/** Rows of one observation. */
export function rowsOf({ rowStarts }: BlockEquations, index: number): number {
  return rowStarts[index + 1]! - rowStarts[index]!;
}

/** Writes the rows of A of the term at a place of the arrays of terms, row by row, into `into`. */
export function termRows(equations: BlockEquations, term: number, rows: number, into: Float64Array): void {
  const size = equations.sizes[equations.termBlocks[term]!]!;
  const from = equations.termMatrices[term]!;
  if (from >= 0) {
    for (let at = 0; at < rows * size; at += 1) into[at] = equations.matrices[from + at]!;
    return;
  }
  for (let at = 0; at < rows * size; at += 1) into[at] = 0;
  const factor = equations.termFactors[term]!;
  for (let row = 0; row < rows; row += 1) into[row * size + row] = factor;
}

/** A x for one observation, into `into`. */
export function predicted(equations: BlockEquations, index: number, x: Float64Array, into: Float64Array): void {
  const { sizes, starts, termStarts, termBlocks, termFactors, termMatrices, matrices } = equations;
  const rows = rowsOf(equations, index);
  for (let row = 0; row < rows; row += 1) into[row] = 0;
  for (let term = termStarts[index]!; term < termStarts[index + 1]!; term += 1) {
    const block = termBlocks[term]!;
    const start = starts[block]!;
    const from = termMatrices[term]!;
    if (from < 0) {
      const factor = termFactors[term]!;
      if (rows === 3) {
        into[0]! += factor * x[start]!;
        into[1]! += factor * x[start + 1]!;
        into[2]! += factor * x[start + 2]!;
        continue;
      }
      for (let row = 0; row < rows; row += 1) into[row]! += factor * x[start + row]!;
      continue;
    }
    const size = sizes[block]!;
    for (let row = 0; row < rows; row += 1) {
      let sum = 0;
      for (let column = 0; column < size; column += 1)
        sum += matrices[from + row * size + column]! * x[start + column]!;
      into[row]! += sum;
    }
  }
}

/** One observation by itself. */
export function observationAt(equations: BlockEquations, index: number): BlockObservation {
  const { sizes, rowStarts, observed, weightStarts, weights, termStarts, termBlocks, termFactors } = equations;
  const rows = rowsOf(equations, index);
  const terms: BlockTerm[] = [];
  for (let term = termStarts[index]!; term < termStarts[index + 1]!; term += 1) {
    const block = termBlocks[term]!;
    const from = equations.termMatrices[term]!;
    const matrix = from < 0 ? null : equations.matrices.slice(from, from + rows * sizes[block]!);
    terms.push({ block, matrix, factor: termFactors[term]! });
  }
  const weightAt = weightStarts[index]!;
  return {
    terms,
    observed: observed.slice(rowStarts[index], rowStarts[index + 1]),
    weight: weights.slice(weightAt, weightAt + rows * rows),
  };
}
