import { InternalError } from '../../../records/internal-error.js';
import { invertInto3 } from '../../numeric/symmetric3.js';
import type { Symmetric3 } from '../../numeric/symmetric3.js';
import { rowsOf, startsOf } from '../blocks/block-equations.js';
import type { BlockEquations, BlockObservation } from '../blocks/block-equations.js';

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
  /** The same of three numbers by their covariance; false, and nothing is written, where that is singular. */
  readonly closeThree: (x: number, y: number, z: number, covariance: Symmetric3) => boolean;
  readonly finish: () => BlockEquations;
}

/** What is written of equations, and how far each array is filled. */
interface Filling {
  rowStarts: Int32Array;
  weightStarts: Int32Array;
  termStarts: Int32Array;
  observed: Float64Array;
  weights: Float64Array;
  termBlocks: Int32Array;
  termFactors: Float64Array;
  termMatrices: Int32Array;
  matrices: Float64Array;
  count: number;
  rows: number;
  filled: number;
  terms: number;
  numbers: number;
}

/** A writer of equations for blocks of these sizes, that go on where the first of others end; null: they begin anew. */
export function writeEquations(
  sizes: ArrayLike<number>,
  room: EquationRoom,
  before: { readonly equations: BlockEquations; readonly count: number } | null = null,
): EquationWriter {
  const into = filling(room, before);
  return {
    identity: (block, factor) => addTerm(into, block, factor, -1),
    turned(block, values, factor) {
      const { numbers } = into;
      into.matrices = longer(into.matrices, numbers + values.length);
      for (let at = 0; at < values.length; at += 1) into.matrices[numbers + at] = factor * values[at]!;
      addTerm(into, block, factor, numbers);
      into.numbers += values.length;
    },
    close(numbersObserved, weight) {
      const m = numbersObserved.length;
      makeRoom(into, m);
      for (let r = 0; r < m; r += 1) into.observed[into.rows + r] = numbersObserved[r]!;
      for (let at = 0; at < m * m; at += 1) into.weights[into.filled + at] = weight[at]!;
      closed(into, m);
    },
    closeThree(x, y, z, covariance) {
      makeRoom(into, 3);
      if (!invertInto3(covariance, into.weights, into.filled)) return false;
      const { observed, rows } = into;
      observed[rows] = x;
      observed[rows + 1] = y;
      observed[rows + 2] = z;
      closed(into, 3);
      return true;
    },
    finish: () => cut(Int32Array.from(sizes), into),
  };
}

/** Empty arrays with room, or such that begin with the first of other equations. */
function filling(
  room: EquationRoom,
  before: { readonly equations: BlockEquations; readonly count: number } | null,
): Filling {
  const empty: Filling = {
    rowStarts: new Int32Array(room.observations + 1),
    weightStarts: new Int32Array(room.observations + 1),
    termStarts: new Int32Array(room.observations + 1),
    observed: new Float64Array(room.rows),
    weights: new Float64Array(room.weights),
    termBlocks: new Int32Array(room.terms),
    termFactors: new Float64Array(room.terms),
    termMatrices: new Int32Array(room.terms),
    matrices: new Float64Array(room.matrices),
    count: 0,
    rows: 0,
    filled: 0,
    terms: 0,
    numbers: 0,
  };
  if (before === null) return empty;
  const { equations, count } = before;
  const rows = equations.rowStarts[count]!;
  const filled = equations.weightStarts[count]!;
  const terms = equations.termStarts[count]!;
  const numbers = equations.matrices.length;
  return {
    rowStarts: begunWith(empty.rowStarts, equations.rowStarts, count + 1),
    weightStarts: begunWith(empty.weightStarts, equations.weightStarts, count + 1),
    termStarts: begunWith(empty.termStarts, equations.termStarts, count + 1),
    observed: begunWith(empty.observed, equations.observed, rows),
    weights: begunWith(empty.weights, equations.weights, filled),
    termBlocks: begunWith(empty.termBlocks, equations.termBlocks, terms),
    termFactors: begunWith(empty.termFactors, equations.termFactors, terms),
    termMatrices: begunWith(empty.termMatrices, equations.termMatrices, terms),
    matrices: begunWith(empty.matrices, equations.matrices, numbers),
    count,
    rows,
    filled,
    terms,
    numbers,
  };
}

function addTerm(into: Filling, block: number, factor: number, matrixAt: number): void {
  const { terms } = into;
  into.termBlocks = longer(into.termBlocks, terms + 1);
  into.termFactors = longer(into.termFactors, terms + 1);
  into.termMatrices = longer(into.termMatrices, terms + 1);
  into.termBlocks[terms] = block;
  into.termFactors[terms] = factor;
  into.termMatrices[terms] = matrixAt;
  into.terms = terms + 1;
}

/** Room for the numbers and the weight of one more observation. */
function makeRoom(into: Filling, m: number): void {
  into.observed = longer(into.observed, into.rows + m);
  into.weights = longer(into.weights, into.filled + m * m);
}

/** Takes down where the observation ends whose numbers and weight were written last. */
function closed(into: Filling, m: number): void {
  into.rows += m;
  into.filled += m * m;
  into.count += 1;
  const { count } = into;
  into.rowStarts = longer(into.rowStarts, count + 1);
  into.weightStarts = longer(into.weightStarts, count + 1);
  into.termStarts = longer(into.termStarts, count + 1);
  into.rowStarts[count] = into.rows;
  into.weightStarts[count] = into.filled;
  into.termStarts[count] = into.terms;
}

/** The equations without the room that was left, where each block that enters times a factor alone is as large as its observation. */
function cut(sizes: Int32Array, arrays: Filling): BlockEquations {
  const { count, rows, filled, terms, numbers } = arrays;
  const equations: BlockEquations = {
    sizes,
    starts: startsOf(sizes),
    count,
    rowStarts: arrays.rowStarts.subarray(0, count + 1),
    observed: arrays.observed.subarray(0, rows),
    weightStarts: arrays.weightStarts.subarray(0, count + 1),
    weights: arrays.weights.subarray(0, filled),
    termStarts: arrays.termStarts.subarray(0, count + 1),
    termBlocks: arrays.termBlocks.subarray(0, terms),
    termFactors: arrays.termFactors.subarray(0, terms),
    termMatrices: arrays.termMatrices.subarray(0, terms),
    matrices: arrays.matrices.subarray(0, numbers),
  };
  const { termStarts, termBlocks, termMatrices } = equations;
  for (let index = 0; index < count; index += 1)
    for (let term = termStarts[index]!; term < termStarts[index + 1]!; term += 1)
      if (termMatrices[term]! < 0 && sizes[termBlocks[term]!] !== rowsOf(equations, index))
        throw new InternalError('an observation and its block of unknowns are of unequal size');
  return equations;
}

/** An array that begins with the first numbers of another, and is at least as long as it was. */
function begunWith<T extends Int32Array | Float64Array>(array: T, from: T, count: number): T {
  const long = longer(array, count);
  long.set(from.subarray(0, count));
  return long;
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
