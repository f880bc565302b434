import type { LocalCovariance } from '../../../records/points/point.js';
import { createZeroedRoom } from '../../numeric/kept-room.js';
import type { JointStep } from './joint-steps.js';
import { COLUMNS } from './joint-tape.js';

/** The covariance of what is shared, its state by the position and the three unit columns, and what an occupation sees of the covariance. */
export interface Unknowns {
  readonly size: number;
  readonly p: Float64Array;
  readonly state: Float64Array;
  readonly across: Float64Array;
  /** By block: 1 where it holds a slow error. */
  readonly isSlow: Float64Array;
}

// A run joins ten thousands of points: their matrices stand in the same memory one after another.
const [variances, states, sights, slows] = [
  createZeroedRoom(),
  createZeroedRoom(),
  createZeroedRoom(),
  createZeroedRoom(),
] as const;

/** Unknowns in so many blocks of three, of which none has begun; good until they are asked for again. */
export function noUnknowns(blockCount: number): Unknowns {
  const size = 3 * blockCount;
  return {
    size,
    p: variances(size * size),
    state: states(size * COLUMNS),
    across: sights(size * 3),
    isSlow: slows(blockCount),
  };
}

/** Slow errors change from the step before to this one; which blocks hold them is written down. */
export function fade(
  { size, p, state, isSlow }: Unknowns,
  { rhoHorizontal, rhoVertical }: JointStep,
  numbers: Float64Array,
  slowAt: number,
): void {
  for (let block = 0; 3 * block < size; block += 1) numbers[slowAt + block] = isSlow[block] as number;
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

/** A block holds an error from now on. */
export function begin(
  { size, p, isSlow }: Unknowns,
  block: number,
  slow: boolean,
  covariance: LocalCovariance | null,
): void {
  isSlow[block] = slow ? 1 : 0;
  const at = 3 * block * size + 3 * block;
  p[at] = covariance === null ? 1 : covariance.eeM2;
  p[at + 1] = p[at + size] = covariance === null ? 0 : covariance.enM2;
  p[at + 2] = p[at + 2 * size] = covariance === null ? 0 : covariance.euM2;
  p[at + size + 1] = covariance === null ? 1 : covariance.nnM2;
  p[at + size + 2] = p[at + 2 * size + 1] = covariance === null ? 0 : covariance.nuM2;
  p[at + 2 * size + 2] = covariance === null ? 1 : covariance.uuM2;
}

/** A block holds nothing any more. */
export function clear({ size, p, state, isSlow }: Unknowns, block: number): void {
  isSlow[block] = 0;
  for (let row = 3 * block; row < 3 * block + 3; row += 1) {
    for (let column = 0; column < size; column += 1) {
      p[row * size + column] = 0;
      p[column * size + row] = 0;
    }
    state.fill(0, row * COLUMNS, (row + 1) * COLUMNS);
  }
}
