import { MOST_ROWS, times } from '../blocks/adjust-blocks.js';
import type { BlockSolution } from '../blocks/adjust-blocks.js';
import { createEvidence, NO_REDUNDANCY, product } from './block-evidence.js';
import type { BlockCofactors } from '../blocks/block-cofactors.js';
import { rowsOf } from '../blocks/block-equations.js';
import type { BlockEquations } from '../blocks/block-equations.js';

/** What can be said of one observation (of one to three numbers) after an adjustment. */
export interface BlockTest {
  /** Adjusted minus observed, each number in the unit of the observation. */
  readonly residuals: Float64Array;
  /** (Q_v P)_ii of each number: 0 not checked by the others, 1 without influence. */
  readonly redundancy: Float64Array;
  /** w of each number, in the form for correlated observations; null where nothing checks it. */
  readonly w: readonly (number | null)[];
  /** The directions of the observation that others check: 0 to as many as it has numbers. */
  readonly checkedDirections: number;
  /** What vᵀPv loses without this observation; 0 where nothing checks it. χ² with `checkedDirections` degrees of freedom. */
  readonly blockTest: number;
  /** What the others say minus what was observed, so far as they say it. */
  readonly othersMinusObserved: Float64Array;
  /** (P Q_v P)_ii of each number: a bias of √(λ₀ over this) has noncentrality λ₀. */
  readonly detectability: Float64Array;
}

/** The tests of all observations: numbers of one kind in one array, those of an observation from `rowStarts` of its equations on. */
export interface BlockTests {
  readonly count: number;
  readonly rowStarts: Int32Array;
  readonly residuals: Float64Array;
  readonly redundancy: Float64Array;
  /** NaN where nothing checks a number. */
  readonly w: Float64Array;
  readonly othersMinusObserved: Float64Array;
  readonly detectability: Float64Array;
  /** One each an observation. */
  readonly checkedDirections: Uint8Array;
  readonly blockTest: Float64Array;
  /** What is said of one observation, by itself. */
  readonly of: (index: number) => BlockTest;
}

/** Tests of every observation of a solution. */
export function blockTests(solution: BlockSolution, cofactors: BlockCofactors): BlockTests {
  const { equations, residuals } = solution;
  const { count, rowStarts, weightStarts, weights } = equations;
  const { length } = residuals;
  const redundancy = new Float64Array(length);
  const w = new Float64Array(length);
  const othersMinusObserved = new Float64Array(length);
  const detectability = new Float64Array(length);
  const checkedDirections = new Uint8Array(count);
  const blockTest = new Float64Array(count);
  const spread = createSpread(equations, cofactors);
  const evidence = createEvidence(MOST_ROWS);
  const forces = new Float64Array(MOST_ROWS);
  for (let index = 0; index < count; index += 1) {
    const m = rowsOf(equations, index);
    const row = rowStarts[index]!;
    const weightAt = weightStarts[index]!;
    const { fitted, left } = spread.of(index);
    times(weights, weightAt, residuals, row, m, forces);
    for (let r = 0; r < m; r += 1) redundancy[row + r] = 1 - fitted[r * m + r]!;
    const found = evidence.find(weights, weightAt, left, forces, m, NO_REDUNDANCY);
    checkedDirections[index] = found.checkedDirections;
    blockTest[index] = found.lost;
    for (let r = 0; r < m; r += 1) {
      w[row + r] = found.w[r]!;
      othersMinusObserved[row + r] = found.othersMinusObserved[r]!;
      detectability[row + r] = found.detectability[r]!;
    }
  }
  const part = (array: Float64Array, index: number): Float64Array =>
    array.slice(rowStarts[index], rowStarts[index + 1]);
  return {
    count,
    rowStarts,
    residuals,
    redundancy,
    w,
    othersMinusObserved,
    detectability,
    checkedDirections,
    blockTest,
    of: (index) => ({
      residuals: part(residuals, index),
      redundancy: part(redundancy, index),
      w: Array.from(part(w, index), (value) => (Number.isNaN(value) ? null : value)),
      checkedDirections: checkedDirections[index]!,
      blockTest: blockTest[index]!,
      othersMinusObserved: part(othersMinusObserved, index),
      detectability: part(detectability, index),
    }),
  };
}

/** P A Q Aᵀ, and what is left of P in the residuals, P Q_v P, of one observation after the other in the same room. */
export function createSpread(
  equations: BlockEquations,
  cofactors: BlockCofactors,
): { readonly of: (index: number) => { readonly fitted: Float64Array; readonly left: Float64Array } } {
  const { weightStarts, weights } = equations;
  const square = (): Float64Array => new Float64Array(MOST_ROWS * MOST_ROWS);
  const [h, p, fitted, left] = [square(), square(), square(), square()];
  const both = { fitted, left };
  return {
    of(index) {
      const m = rowsOf(equations, index);
      const from = weightStarts[index]!;
      cofactors.ofObservation(index, h);
      for (let at = 0; at < m * m; at += 1) p[at] = weights[from + at]!;
      product(p, h, fitted, m);
      product(fitted, p, left, m);
      for (let at = 0; at < m * m; at += 1) left[at] = p[at]! - left[at]!;
      return both;
    },
  };
}
