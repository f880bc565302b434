import { eigenInPlace } from '../../numeric/symmetric-eigen.js';
import { MOST_ROWS } from '../blocks/adjust-blocks.js';
import type { BlockSolution } from '../blocks/adjust-blocks.js';
import { createEvidence, NO_REDUNDANCY, product } from './block-evidence.js';
import type { BlockEvidence } from './block-evidence.js';
import { createSpread } from './block-tests.js';
import type { BlockCofactors } from '../blocks/block-cofactors.js';
import { rowsOf } from '../blocks/block-equations.js';

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
  const [across, pushed, moved, gram] = [square(), square(), square(), square()];
  const [vectors, p] = [square(), square()];
  const spread = createSpread(equations, cofactors);
  const evidence = createEvidence(MOST_ROWS);
  const noForces = new Float64Array(MOST_ROWS);
  let last = -1;
  let found: BlockEvidence | null = null;
  const look = (index: number, m: number): BlockEvidence => {
    if (index === last && found !== null) return found;
    last = index;
    const from = weightStarts[index]!;
    found = evidence.find(weights, from, spread.of(index).left, noForces, m, NO_REDUNDANCY);
    for (let at = 0; at < m * m; at += 1) p[at] = weights[from + at]!;
    // P times each axis of the observation: a bias along it, as a force.
    if (found.inAxes !== null) product(p, found.inAxes.axes, pushed, m);
    else {
      product(found.inverse, p, vectors, m);
      product(p, vectors, pushed, m);
    }
    return found;
  };
  return (index, block) => {
    const m = rowsOf(equations, index);
    const { inAxes } = look(index, m);
    const size = sizes[block]!;
    cofactors.acrossTo(block, index, across);
    if (inAxes === null) {
      // All biases that the test lets be: Q_bA P S⁻¹ P A Q_b.
      rectangle(across, pushed, moved, size, m);
      for (let a = 0; a < size; a += 1)
        for (let b = 0; b < size; b += 1) {
          let sum = 0;
          for (let k = 0; k < m; k += 1) sum += moved[a * m + k]! * across[b * m + k]!;
          gram[a * size + b] = sum;
        }
    } else {
      // A bias along each axis, as long as the test lets it be, and what it does to the block.
      rectangle(across, pushed, moved, size, m);
      for (let k = 0; k < m; k += 1) {
        const share = inAxes.shares[k]!;
        for (let a = 0; a < size; a += 1) {
          if (share < NO_REDUNDANCY && Math.abs(moved[a * m + k]!) > LEAST_MOVE) return Infinity;
          moved[a * m + k] = share < NO_REDUNDANCY ? 0 : moved[a * m + k]! / Math.sqrt(share);
        }
      }
      for (let a = 0; a < size; a += 1)
        for (let b = 0; b < size; b += 1) {
          let sum = 0;
          for (let k = 0; k < m; k += 1) sum += moved[a * m + k]! * moved[b * m + k]!;
          gram[a * size + b] = sum;
        }
    }
    return Math.sqrt(Math.max(0, largestEigenvalue(gram, vectors, size)));
  };
}

/** A B, of so many rows, with B square. */
function rectangle(a: Float64Array, b: Float64Array, into: Float64Array, rows: number, m: number): void {
  for (let i = 0; i < rows; i += 1)
    for (let j = 0; j < m; j += 1) {
      let sum = 0;
      for (let k = 0; k < m; k += 1) sum += a[i * m + k]! * b[k * m + j]!;
      into[i * m + j] = sum;
    }
}

/**
 * The largest eigenvalue of a symmetric matrix. Of three by three by the closed form of its characteristic cubic, which for the
 * largest loses no digit; the matrix may be overwritten, `room` is. Reference: textbook (trigonometric solution of the cubic).
 */
function largestEigenvalue(a: Float64Array, room: Float64Array, size: number): number {
  if (size === 1) return a[0]!;
  if (size !== 3) {
    eigenInPlace(a, room, size);
    return a[size * size - 1]!;
  }
  const mean = (a[0]! + a[4]! + a[8]!) / 3;
  const [x, y, z] = [a[0]! - mean, a[4]! - mean, a[8]! - mean];
  const [xy, xz, yz] = [a[1]!, a[2]!, a[5]!];
  const squares = (x * x + y * y + z * z + 2 * (xy * xy + xz * xz + yz * yz)) / 6;
  if (!(squares > 0)) return mean;
  const half = (x * (y * z - yz * yz) - xy * (xy * z - yz * xz) + xz * (xy * yz - y * xz)) / 2;
  const radius = Math.sqrt(squares);
  const cosine = Math.max(-1, Math.min(1, half / (squares * radius)));
  return mean + 2 * radius * Math.cos(Math.acos(cosine) / 3);
}
