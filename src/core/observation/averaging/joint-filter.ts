import { InternalError } from '../../../records/internal-error.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { inverse3 } from '../../numeric/symmetric3.js';
import type { Symmetric3 } from '../../numeric/symmetric3.js';
import { RECORDING_VARIANCE_M2 } from '../repeats/occupation-estimate.js';
import type { JointStep, JointSteps } from './joint-steps.js';

/** What a step leaves for the way back. */
export interface FilteredStep {
  readonly step: JointStep;
  /** Which blocks held slow errors, 1 each, as time went on from the step before. */
  readonly slowBefore: Uint8Array;
  /** How much of each slow error the occupation sees, by axis: √ of its variances. */
  readonly constant: readonly [number, number, number];
  readonly growing: readonly [number, number, number];
  /** Gain, three numbers an unknown. */
  readonly gain: Float64Array;
  readonly inverse: Symmetric3;
  /** Innovations: three axes by the position and the three unit columns. */
  readonly innovation: Float64Array;
}

/** The occupations made independent of each other, and the sums of the normal equations. */
export interface FilteredSteps {
  readonly size: number;
  readonly steps: readonly FilteredStep[];
  /** AᵀC⁻¹A, AᵀC⁻¹x and xᵀC⁻¹x; A stacks unit matrices. */
  readonly normal: Symmetric3;
  readonly right: readonly [number, number, number];
  readonly squares: number;
}

const COLUMNS = 4;
const AXES = [0, 1, 2] as const;

/**
 * Makes occupations independent of each other, one after another in time: what they share is carried along as unknowns, slow
 * errors fading by exp(−Δt/τ) between two occupations. The same as the Cholesky factor of their full covariance, in time and
 * memory that grow with the count.
 *
 * Given: steps. Returned: innovations with their covariances and gains, m.
 *
 * Reference: Kalman filter as the Cholesky factorisation of a covariance with state-space form, ANDERSON-MOORE-1979 (from
 * memory); held against the dense form by a property test.
 */
export function jointFilter({ steps, blockCount }: JointSteps): FilteredSteps {
  const size = 3 * blockCount;
  const p = new Float64Array(size * size);
  const state = new Float64Array(size * COLUMNS);
  const isSlow = new Uint8Array(blockCount);
  const across = new Float64Array(size * 3);
  const normal = new Float64Array(COLUMNS * COLUMNS);
  const filtered = steps.map((step): FilteredStep => {
    const slowBefore = Uint8Array.from(isSlow);
    fade(p, state, size, isSlow, step);
    for (const { block, isSlow: slow, covariance } of step.begins) begin(p, size, block, isSlow, slow, covariance);
    const { estimate } = step;
    const constant = roots(estimate.correlated);
    const growing = roots(estimate.baseline);
    const [slowBlock, growingBlock, ...shared] = step.blocks;
    for (const axis of AXES) {
      for (let row = 0; row < size; row += 1) {
        const at = row * size + axis;
        let sum =
          constant[axis] * (p[at + 3 * slowBlock] as number) + growing[axis] * (p[at + 3 * growingBlock] as number);
        for (const block of shared) sum += p[at + 3 * block] as number;
        across[row * 3 + axis] = sum;
      }
    }
    const seen = (from: Float64Array, width: number, axis: 0 | 1 | 2, column: number): number => {
      let sum =
        constant[axis] * (from[(3 * slowBlock + axis) * width + column] as number) +
        growing[axis] * (from[(3 * growingBlock + axis) * width + column] as number);
      for (const block of shared) sum += from[(3 * block + axis) * width + column] as number;
      return sum;
    };
    const covariance = withShared(ownCovariance(estimate), (axis, column) => seen(across, 3, axis, column));
    const inverse = isPositive(covariance) ? inverse3(covariance) : null;
    if (inverse === null) throw new InternalError('the covariance of occupations is not positive definite');
    const innovation = new Float64Array(3 * COLUMNS);
    const values = [estimate.position.eastM, estimate.position.northM, estimate.position.upM] as const;
    for (const axis of AXES) {
      for (let column = 0; column < COLUMNS; column += 1)
        innovation[axis * COLUMNS + column] =
          (column === 0 ? values[axis] : column === axis + 1 ? 1 : 0) - seen(state, COLUMNS, axis, column);
    }
    const gain = new Float64Array(size * 3);
    for (let row = 0; row < size; row += 1) {
      const [x, y, z] = [across[row * 3] as number, across[row * 3 + 1] as number, across[row * 3 + 2] as number];
      const [a, b, c] = times(inverse, x, y, z);
      gain[row * 3] = a;
      gain[row * 3 + 1] = b;
      gain[row * 3 + 2] = c;
      for (let column = 0; column < COLUMNS; column += 1)
        state[row * COLUMNS + column] =
          (state[row * COLUMNS + column] as number) +
          a * (innovation[column] as number) +
          b * (innovation[COLUMNS + column] as number) +
          c * (innovation[2 * COLUMNS + column] as number);
      for (let column = 0; column < size; column += 1)
        p[row * size + column] =
          (p[row * size + column] as number) -
          a * (across[column * 3] as number) -
          b * (across[column * 3 + 1] as number) -
          c * (across[column * 3 + 2] as number);
    }
    addSquares(normal, innovation, inverse);
    for (const block of step.ends) clear(p, state, size, isSlow, block);
    return { step, slowBefore, constant, growing, gain, inverse, innovation };
  });
  const n = (row: number, column: number): number => normal[row * COLUMNS + column] as number;
  return {
    size,
    steps: filtered,
    normal: { xx: n(1, 1), xy: n(1, 2), xz: n(1, 3), yy: n(2, 2), yz: n(2, 3), zz: n(3, 3) },
    right: [n(1, 0), n(2, 0), n(3, 0)],
    squares: n(0, 0),
  };
}

/** Slow errors change from the step before to this one. */
function fade(
  p: Float64Array,
  state: Float64Array,
  size: number,
  isSlow: Uint8Array,
  { rhoHorizontal, rhoVertical }: JointStep,
): void {
  for (let row = 0; row < size; row += 1) {
    if (isSlow[Math.floor(row / 3)] !== 1) continue;
    const rho = row % 3 === 2 ? rhoVertical : rhoHorizontal;
    for (let column = 0; column < size; column += 1) {
      p[row * size + column] = (p[row * size + column] as number) * rho;
      p[column * size + row] = (p[column * size + row] as number) * rho;
    }
    p[row * size + row] = (p[row * size + row] as number) + 1 - rho * rho;
    for (let column = 0; column < COLUMNS; column += 1)
      state[row * COLUMNS + column] = (state[row * COLUMNS + column] as number) * rho;
  }
}

function begin(
  p: Float64Array,
  size: number,
  block: number,
  isSlow: Uint8Array,
  slow: boolean,
  covariance: LocalCovariance | null,
): void {
  isSlow[block] = slow ? 1 : 0;
  const { eeM2, enM2, euM2, nnM2, nuM2, uuM2 } = covariance ?? { eeM2: 1, enM2: 0, euM2: 0, nnM2: 1, nuM2: 0, uuM2: 1 };
  const rows = [
    [eeM2, enM2, euM2],
    [enM2, nnM2, nuM2],
    [euM2, nuM2, uuM2],
  ] as const;
  for (const row of AXES)
    for (const column of AXES) p[(3 * block + row) * size + 3 * block + column] = rows[row][column];
}

function clear(p: Float64Array, state: Float64Array, size: number, isSlow: Uint8Array, block: number): void {
  isSlow[block] = 0;
  for (const axis of AXES) {
    const row = 3 * block + axis;
    for (let column = 0; column < size; column += 1) {
      p[row * size + column] = 0;
      p[column * size + row] = 0;
    }
    state.fill(0, row * COLUMNS, (row + 1) * COLUMNS);
  }
}

/** The covariance of an occupation: what is its own, and what it sees of errors that others see. */
function withShared(own: Symmetric3, seen: (axis: 0 | 1 | 2, column: number) => number): Symmetric3 {
  return {
    xx: own.xx + seen(0, 0),
    xy: own.xy + seen(0, 1),
    xz: own.xz + seen(0, 2),
    yy: own.yy + seen(1, 1),
    yz: own.yz + seen(1, 2),
    zz: own.zz + seen(2, 2),
  };
}

/** What belongs to an occupation alone; slow errors are taken along their axes only. */
function ownCovariance({ independent, correlated, baseline }: JointStep['estimate']): Symmetric3 {
  const other = (key: 'enM2' | 'euM2' | 'nuM2'): number => independent[key] + correlated[key] + baseline[key];
  return {
    xx: independent.eeM2 + RECORDING_VARIANCE_M2,
    xy: other('enM2'),
    xz: other('euM2'),
    yy: independent.nnM2 + RECORDING_VARIANCE_M2,
    yz: other('nuM2'),
    zz: independent.uuM2 + RECORDING_VARIANCE_M2,
  };
}

function roots({ eeM2, nnM2, uuM2 }: LocalCovariance): readonly [number, number, number] {
  return [Math.sqrt(Math.max(0, eeM2)), Math.sqrt(Math.max(0, nnM2)), Math.sqrt(Math.max(0, uuM2))];
}

function isPositive({ xx, xy, xz, yy, yz, zz }: Symmetric3): boolean {
  return (
    xx > 0 && xx * yy > xy * xy && xx * (yy * zz - yz * yz) - xy * (xy * zz - yz * xz) + xz * (xy * yz - yy * xz) > 0
  );
}

/** A symmetric matrix times a vector. */
export function times(
  { xx, xy, xz, yy, yz, zz }: Symmetric3,
  x: number,
  y: number,
  z: number,
): readonly [number, number, number] {
  return [xx * x + xy * y + xz * z, xy * x + yy * y + yz * z, xz * x + yz * y + zz * z];
}

function addSquares(normal: Float64Array, innovation: Float64Array, inverse: Symmetric3): void {
  for (let column = 0; column < COLUMNS; column += 1) {
    const [a, b, c] = times(
      inverse,
      innovation[column] as number,
      innovation[COLUMNS + column] as number,
      innovation[2 * COLUMNS + column] as number,
    );
    for (let row = 0; row < COLUMNS; row += 1) {
      normal[row * COLUMNS + column] =
        (normal[row * COLUMNS + column] as number) +
        (innovation[row] as number) * a +
        (innovation[COLUMNS + row] as number) * b +
        (innovation[2 * COLUMNS + row] as number) * c;
    }
  }
}
