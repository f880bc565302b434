import { InternalError } from '../../records/internal-error.js';
import { rowsOf, startsOf } from './block-equations.js';
import type { BlockEquations, BlockObservation } from './block-equations.js';

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
