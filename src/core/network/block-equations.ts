import { InternalError } from '../../records/internal-error.js';

/** What one observation has to do with one block of unknowns. */
export interface BlockTerm {
  /** Place of the block in `BlockEquations.sizes`. */
  readonly block: number;
  /** Rows of A for this block, row by row; null: `factor` times the identity, where the block is as large as the observation. */
  readonly matrix: ArrayLike<number> | null;
  readonly factor: number;
}

/** Some numbers observed together, which correlate among themselves and with no others. */
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
 */
export interface BlockEquations {
  /** Unknowns in each block. */
  readonly sizes: ArrayLike<number>;
  readonly observations: readonly BlockObservation[];
}

/** Where the unknowns of each block begin in one list of all, and at the end how many there are. */
export function startsOf(sizes: ArrayLike<number>): Int32Array {
  const starts = new Int32Array(sizes.length + 1);
  for (let block = 0; block < sizes.length; block += 1) starts[block + 1] = starts[block]! + sizes[block]!;
  return starts;
}

/** Writes the rows of A of one term, row by row, into `into`. */
export function termRows(term: BlockTerm, rows: number, size: number, into: Float64Array): void {
  if (term.matrix !== null) {
    for (let at = 0; at < rows * size; at += 1) into[at] = term.matrix[at]!;
    return;
  }
  if (rows !== size) throw new InternalError('an observation and its block of unknowns are of unequal size');
  for (let at = 0; at < rows * size; at += 1) into[at] = 0;
  for (let row = 0; row < rows; row += 1) into[row * size + row] = term.factor;
}

/** A x for one observation, into `into`. */
export function predicted(
  observation: BlockObservation,
  sizes: ArrayLike<number>,
  starts: Int32Array,
  x: Float64Array,
  into: Float64Array,
): void {
  const rows = observation.observed.length;
  for (let row = 0; row < rows; row += 1) into[row] = 0;
  for (const { block, matrix, factor } of observation.terms) {
    const size = sizes[block]!;
    const start = starts[block]!;
    for (let row = 0; row < rows; row += 1) {
      if (matrix === null) {
        into[row]! += factor * x[start + row]!;
        continue;
      }
      let sum = 0;
      for (let column = 0; column < size; column += 1) sum += matrix[row * size + column]! * x[start + column]!;
      into[row]! += sum;
    }
  }
}
