import { eigenInPlace } from '../numeric/symmetric-eigen.js';
import { MOST_ROWS } from './adjust-blocks.js';
import type { BlockSolution } from './adjust-blocks.js';
import { createEvidence, NO_REDUNDANCY } from './block-evidence.js';
import { createSpread } from './block-tests.js';
import type { BlockCofactors } from './block-cofactors.js';
import { rowsOf } from './block-equations.js';

/** An unknown that moves by less than this, where an observation moves by its sigma, does not move: rounding, metres. */
const LEAST_MOVE = 1e-9;

/**
 * How far a bias in an observation that its test does not find can move one of its blocks of unknowns.
 *
 * Given: the solution; its covariances. Returned: of an observation and one of its blocks, the greatest length of
 * Q Aᵀ P ∇ over all ∇ with ∇ᵀ P Q_v P ∇ ≤ 1, in the unit of the unknowns: times √λ₀ it is the external reliability; Infinity
 * where a direction of the observation is not checked and moves the block. To ask block by block of one observation is cheapest.
 */
export function biasReach(
  solution: BlockSolution,
  cofactors: BlockCofactors,
): (index: number, block: number) => number {
  const { equations } = solution;
  const { sizes, weightStarts, weights } = equations;
  const square = (): Float64Array => new Float64Array(MOST_ROWS * MOST_ROWS);
  const [across, pushed, moved, gram, vectors] = [square(), square(), square(), square(), square()];
  const spread = createSpread(equations, cofactors);
  const evidence = createEvidence(MOST_ROWS);
  const noForces = new Float64Array(MOST_ROWS);
  let last = -1;
  let shares: Float64Array = noForces;
  /** P times each axis of the observation: a bias along it, as a force. */
  const look = (index: number, m: number): void => {
    const from = weightStarts[index]!;
    const found = evidence.find(weights, from, spread.of(index).left, noForces, m, NO_REDUNDANCY);
    ({ shares } = found);
    for (let r = 0; r < m; r += 1)
      for (let k = 0; k < m; k += 1) {
        let force = 0;
        for (let s = 0; s < m; s += 1) force += weights[from + r * m + s]! * found.axes[s * m + k]!;
        pushed[r * m + k] = force;
      }
    last = index;
  };
  return (index, block) => {
    const m = rowsOf(equations, index);
    if (index !== last) look(index, m);
    const size = sizes[block]!;
    cofactors.acrossTo(block, index, across);
    // A bias along each axis, as long as the test lets it be, and what it does to the block.
    for (let k = 0; k < m; k += 1) {
      const share = shares[k]!;
      for (let a = 0; a < size; a += 1) {
        let by = 0;
        for (let r = 0; r < m; r += 1) by += across[a * m + r]! * pushed[r * m + k]!;
        if (share < NO_REDUNDANCY && Math.abs(by) > LEAST_MOVE) return Infinity;
        moved[a * m + k] = share < NO_REDUNDANCY ? 0 : by / Math.sqrt(share);
      }
    }
    for (let a = 0; a < size; a += 1)
      for (let b = 0; b < size; b += 1) {
        let sum = 0;
        for (let k = 0; k < m; k += 1) sum += moved[a * m + k]! * moved[b * m + k]!;
        gram[a * size + b] = sum;
      }
    eigenInPlace(gram, vectors, size);
    return Math.sqrt(Math.max(0, gram[size * size - 1]!));
  };
}
