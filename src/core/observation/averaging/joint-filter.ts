import { InternalError } from '../../../records/internal-error.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { invertInto3 } from '../../numeric/symmetric3.js';
import type { Symmetric3 } from '../../numeric/symmetric3.js';
import { createZeroedRoom } from '../../numeric/kept-room.js';
import { RECORDING_VARIANCE_M2 } from '../repeats/occupation-estimate.js';
import type { OccupationEstimate } from '../repeats/occupation-estimate.js';
import type { JointStep, JointSteps } from './joint-steps.js';
import { begin, clear, fade, noUnknowns } from './joint-unknowns.js';
import type { Unknowns } from './joint-unknowns.js';
import { COLUMNS, tapeLayout } from './joint-tape.js';
import type { JointTape } from './joint-tape.js';

/** The occupations made independent of each other, and the sums of the normal equations. */
export interface FilteredSteps {
  /** How many unknowns they share. */
  readonly size: number;
  readonly steps: readonly JointStep[];
  readonly tape: JointTape;
  /** AᵀC⁻¹A, AᵀC⁻¹x and xᵀC⁻¹x; A stacks unit matrices. */
  readonly normal: Symmetric3;
  readonly right: readonly [number, number, number];
  readonly squares: number;
}

const sums = createZeroedRoom();

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
  const layout = tapeLayout(blockCount);
  const tape: JointTape = { ...layout, numbers: new Float64Array(layout.stride * steps.length) };
  const unknowns = noUnknowns(blockCount);
  const normal = sums(COLUMNS * COLUMNS);
  for (let place = 0; place < steps.length; place += 1)
    takeIn(unknowns, steps[place] as JointStep, tape, tape.stride * place, normal);
  const n = (row: number, column: number): number => normal[row * COLUMNS + column] as number;
  return {
    size,
    steps,
    tape,
    normal: { xx: n(1, 1), xy: n(1, 2), xz: n(1, 3), yy: n(2, 2), yz: n(2, 3), zz: n(3, 3) },
    right: [n(1, 0), n(2, 0), n(3, 0)],
    squares: n(0, 0),
  };
}

/** One occupation more, whose numbers stand from a place on. */
function takeIn(unknowns: Unknowns, step: JointStep, tape: JointTape, at: number, normal: Float64Array): void {
  const { numbers } = tape;
  fade(unknowns, step, numbers, at + tape.slow);
  for (const { block, isSlow, covariance } of step.begins) begin(unknowns, block, isSlow, covariance);
  putRoots(step.estimate.correlated, numbers, at + tape.constant);
  putRoots(step.estimate.baseline, numbers, at + tape.growing);
  see(unknowns, step, tape, at);
  const covariance = covarianceOf(unknowns, step, tape, at);
  if (!isPositive(covariance) || !invertInto3(covariance, numbers, at + tape.inverse))
    throw new InternalError('the covariance of occupations is not positive definite');
  putInnovation(unknowns, step, tape, at);
  improve(unknowns, tape, at);
  addSquares(normal, tape, at);
  for (const block of step.ends) clear(unknowns, block);
}

/** What an occupation sees of each unknown's covariance. */
function see({ size, p, across }: Unknowns, { blocks }: JointStep, tape: JointTape, at: number): void {
  const [slow, growing] = blocks;
  const { numbers } = tape;
  for (let axis = 0; axis < 3; axis += 1) {
    const constantShare = numbers[at + tape.constant + axis] as number;
    const growingShare = numbers[at + tape.growing + axis] as number;
    for (let row = 0; row < size; row += 1) {
      const from = row * size + axis;
      let sum = constantShare * (p[from + 3 * slow] as number) + growingShare * (p[from + 3 * growing] as number);
      for (let kind = 2; kind < blocks.length; kind += 1) sum += p[from + 3 * (blocks[kind] as number)] as number;
      across[row * 3 + axis] = sum;
    }
  }
}

/** What an occupation sees along an axis of a column of numbers by unknown. */
function seen(
  from: Float64Array,
  width: number,
  column: number,
  axis: number,
  { blocks }: JointStep,
  tape: JointTape,
  at: number,
): number {
  const [slow, growing] = blocks;
  const { numbers } = tape;
  let sum =
    (numbers[at + tape.constant + axis] as number) * (from[(3 * slow + axis) * width + column] as number) +
    (numbers[at + tape.growing + axis] as number) * (from[(3 * growing + axis) * width + column] as number);
  for (let kind = 2; kind < blocks.length; kind += 1)
    sum += from[(3 * (blocks[kind] as number) + axis) * width + column] as number;
  return sum;
}

/** Positions and unit columns less what is known of them. */
function putInnovation({ state }: Unknowns, step: JointStep, tape: JointTape, at: number): void {
  const { eastM, northM, upM } = step.estimate.position;
  for (let axis = 0; axis < 3; axis += 1) {
    const value = axis === 0 ? eastM : axis === 1 ? northM : upM;
    for (let column = 0; column < COLUMNS; column += 1)
      tape.numbers[at + tape.innovation + axis * COLUMNS + column] =
        (column === 0 ? value : column === axis + 1 ? 1 : 0) - seen(state, COLUMNS, column, axis, step, tape, at);
  }
}

/** The gain, and the unknowns as they are known with the occupation. */
function improve({ size, p, state, across }: Unknowns, tape: JointTape, at: number): void {
  const { numbers } = tape;
  const inverse = at + tape.inverse;
  const [xx, xy, xz] = [numbers[inverse] as number, numbers[inverse + 1] as number, numbers[inverse + 2] as number];
  const [yy, yz, zz] = [numbers[inverse + 4] as number, numbers[inverse + 5] as number, numbers[inverse + 8] as number];
  const innovation = at + tape.innovation;
  for (let row = 0; row < size; row += 1) {
    const x = across[row * 3] as number;
    const y = across[row * 3 + 1] as number;
    const z = across[row * 3 + 2] as number;
    const a = xx * x + xy * y + xz * z;
    const b = xy * x + yy * y + yz * z;
    const c = xz * x + yz * y + zz * z;
    numbers[at + tape.gain + row * 3] = a;
    numbers[at + tape.gain + row * 3 + 1] = b;
    numbers[at + tape.gain + row * 3 + 2] = c;
    for (let column = 0; column < COLUMNS; column += 1)
      state[row * COLUMNS + column] =
        (state[row * COLUMNS + column] as number) +
        a * (numbers[innovation + column] as number) +
        b * (numbers[innovation + COLUMNS + column] as number) +
        c * (numbers[innovation + 2 * COLUMNS + column] as number);
    for (let column = 0; column < size; column += 1)
      p[row * size + column] =
        (p[row * size + column] as number) -
        a * (across[column * 3] as number) -
        b * (across[column * 3 + 1] as number) -
        c * (across[column * 3 + 2] as number);
  }
}

/** The covariance of an occupation: what belongs to it alone (slow errors along their axes only), and what it sees of errors that others see. */
function covarianceOf({ across }: Unknowns, step: JointStep, tape: JointTape, at: number): Symmetric3 {
  const { independent, correlated, baseline }: OccupationEstimate = step.estimate;
  return {
    xx: independent.eeM2 + RECORDING_VARIANCE_M2 + seen(across, 3, 0, 0, step, tape, at),
    xy: independent.enM2 + correlated.enM2 + baseline.enM2 + seen(across, 3, 1, 0, step, tape, at),
    xz: independent.euM2 + correlated.euM2 + baseline.euM2 + seen(across, 3, 2, 0, step, tape, at),
    yy: independent.nnM2 + RECORDING_VARIANCE_M2 + seen(across, 3, 1, 1, step, tape, at),
    yz: independent.nuM2 + correlated.nuM2 + baseline.nuM2 + seen(across, 3, 2, 1, step, tape, at),
    zz: independent.uuM2 + RECORDING_VARIANCE_M2 + seen(across, 3, 2, 2, step, tape, at),
  };
}

function putRoots({ eeM2, nnM2, uuM2 }: LocalCovariance, into: Float64Array, at: number): void {
  into[at] = Math.sqrt(Math.max(0, eeM2));
  into[at + 1] = Math.sqrt(Math.max(0, nnM2));
  into[at + 2] = Math.sqrt(Math.max(0, uuM2));
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

function addSquares(normal: Float64Array, { numbers, inverse, innovation }: JointTape, at: number): void {
  const i = at + inverse;
  const from = at + innovation;
  for (let column = 0; column < COLUMNS; column += 1) {
    const x = numbers[from + column] as number;
    const y = numbers[from + COLUMNS + column] as number;
    const z = numbers[from + 2 * COLUMNS + column] as number;
    const a = (numbers[i] as number) * x + (numbers[i + 1] as number) * y + (numbers[i + 2] as number) * z;
    const b = (numbers[i + 1] as number) * x + (numbers[i + 4] as number) * y + (numbers[i + 5] as number) * z;
    const c = (numbers[i + 2] as number) * x + (numbers[i + 5] as number) * y + (numbers[i + 8] as number) * z;
    for (let row = 0; row < COLUMNS; row += 1) {
      normal[row * COLUMNS + column] =
        (normal[row * COLUMNS + column] as number) +
        (numbers[from + row] as number) * a +
        (numbers[from + COLUMNS + row] as number) * b +
        (numbers[from + 2 * COLUMNS + row] as number) * c;
    }
  }
}
