import { InternalError } from '../../records/internal-error.js';

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

/** Room for what is known to come; more is made where it does not suffice. */
export interface EquationRoom {
  readonly observations: number;
  readonly rows: number;
  readonly weights: number;
  readonly terms: number;
  readonly matrices: number;
}

/** Lays observations one after the other: first the terms of one, then its numbers. */
export interface EquationWriter {
  /** The block enters times a factor. */
  readonly identity: (block: number, factor: number) => void;
  /** The block enters with rows of A, row by row, times a factor. */
  readonly turned: (block: number, rows: ArrayLike<number>, factor: number) => void;
  /** The numbers of the observation whose terms were given last, and their weight: as many as the first list has. */
  readonly close: (observed: ArrayLike<number>, weight: ArrayLike<number>) => void;
  readonly finish: () => BlockEquations;
}

/** A writer of equations for blocks of these sizes. */
export function writeEquations(sizes: ArrayLike<number>, room: EquationRoom): EquationWriter {
  let rowStarts = new Int32Array(room.observations + 1);
  let weightStarts = new Int32Array(room.observations + 1);
  let termStarts = new Int32Array(room.observations + 1);
  let observed = new Float64Array(room.rows);
  let weights = new Float64Array(room.weights);
  let termBlocks = new Int32Array(room.terms);
  let termFactors = new Float64Array(room.terms);
  let termMatrices = new Int32Array(room.terms);
  let matrices = new Float64Array(room.matrices);
  let [count, rows, filled, terms, numbers] = [0, 0, 0, 0, 0];
  const term = (block: number, factor: number, matrixAt: number): void => {
    termBlocks = longer(termBlocks, terms + 1);
    termFactors = longer(termFactors, terms + 1);
    termMatrices = longer(termMatrices, terms + 1);
    termBlocks[terms] = block;
    termFactors[terms] = factor;
    termMatrices[terms] = matrixAt;
    terms += 1;
  };
  return {
    identity: (block, factor) => term(block, factor, -1),
    turned(block, values, factor) {
      matrices = longer(matrices, numbers + values.length);
      for (let at = 0; at < values.length; at += 1) matrices[numbers + at] = factor * values[at]!;
      term(block, factor, numbers);
      numbers += values.length;
    },
    close(numbersObserved, weight) {
      const m = numbersObserved.length;
      observed = longer(observed, rows + m);
      weights = longer(weights, filled + m * m);
      for (let r = 0; r < m; r += 1) observed[rows + r] = numbersObserved[r]!;
      for (let at = 0; at < m * m; at += 1) weights[filled + at] = weight[at]!;
      rows += m;
      filled += m * m;
      count += 1;
      rowStarts = longer(rowStarts, count + 1);
      weightStarts = longer(weightStarts, count + 1);
      termStarts = longer(termStarts, count + 1);
      rowStarts[count] = rows;
      weightStarts[count] = filled;
      termStarts[count] = terms;
    },
    finish: () => {
      const arrays = {
        rowStarts,
        observed,
        weightStarts,
        weights,
        termStarts,
        termBlocks,
        termFactors,
        termMatrices,
        matrices,
      };
      return cut(Int32Array.from(sizes), arrays, { count, rows, filled, terms, numbers });
    },
  };
}

type Arrays = Omit<BlockEquations, 'sizes' | 'starts' | 'count'>;

/** The equations without the room that was left, where each block that enters times a factor alone is as large as its observation. */
function cut(
  sizes: Int32Array,
  arrays: Arrays,
  used: Readonly<Record<'count' | 'rows' | 'filled' | 'terms' | 'numbers', number>>,
): BlockEquations {
  const { count, terms } = used;
  const equations: BlockEquations = {
    sizes,
    starts: startsOf(sizes),
    count,
    rowStarts: arrays.rowStarts.subarray(0, count + 1),
    observed: arrays.observed.subarray(0, used.rows),
    weightStarts: arrays.weightStarts.subarray(0, count + 1),
    weights: arrays.weights.subarray(0, used.filled),
    termStarts: arrays.termStarts.subarray(0, count + 1),
    termBlocks: arrays.termBlocks.subarray(0, terms),
    termFactors: arrays.termFactors.subarray(0, terms),
    termMatrices: arrays.termMatrices.subarray(0, terms),
    matrices: arrays.matrices.subarray(0, used.numbers),
  };
  const { termStarts, termBlocks, termMatrices } = equations;
  for (let index = 0; index < count; index += 1)
    for (let term = termStarts[index]!; term < termStarts[index + 1]!; term += 1)
      if (termMatrices[term]! < 0 && sizes[termBlocks[term]!] !== rowsOf(equations, index))
        throw new InternalError('an observation and its block of unknowns are of unequal size');
  return equations;
}

/** The array where it is long enough, else a longer one that begins with it. */
function longer<T extends Int32Array | Float64Array>(array: T, length: number): T {
  if (array.length >= length) return array;
  const Kind = array.constructor as new (length: number) => T;
  const more = new Kind(Math.max(16, length + (length >> 1)));
  more.set(array);
  return more;
}

/**
 * Equations from observations one by one, for what is small enough to be written down.
 *
 * @example
 * // One unknown, known beforehand and observed once: two observations of one number.
 * const known = { terms: [{ block: 0, matrix: null, factor: 1 }], observed: [0], weight: [4] };
 * equationsOf([1], [known, { ...known, observed: [2] }]).count; // 2
 */
export function equationsOf(sizes: ArrayLike<number>, observations: Iterable<BlockObservation>): BlockEquations {
  const writer = writeEquations(sizes, { observations: 0, rows: 0, weights: 0, terms: 0, matrices: 0 });
  for (const { terms, observed, weight } of observations) {
    for (const { block, matrix, factor } of terms)
      if (matrix === null) writer.identity(block, factor);
      else writer.turned(block, matrix, 1);
    writer.close(observed, weight);
  }
  return writer.finish();
}
