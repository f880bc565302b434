/** Where the numbers of a step stand among its own. */
export interface TapeLayout {
  /** Gain, three numbers an unknown. */
  readonly gain: number;
  /** Innovations: three axes by the position and the three unit columns. */
  readonly innovation: number;
  /** Inverse of the covariance of the innovations, row by row. */
  readonly inverse: number;
  /** How much of each slow error the occupation sees, by axis: √ of its variances. */
  readonly constant: number;
  readonly growing: number;
  /** By block: 1 where it held a slow error as time went on from the step before. */
  readonly slow: number;
  /** Numbers of a step. */
  readonly stride: number;
}

/** What each step of a filter leaves for the way back, one after another: an object and its arrays for each would cost more than the filter. */
export interface JointTape extends TapeLayout {
  readonly numbers: Float64Array;
}

/** The position and three unit columns. */
export const COLUMNS = 4;

/** Given: how many blocks of three unknowns there are. */
export function tapeLayout(blockCount: number): TapeLayout {
  const innovation = 9 * blockCount;
  const inverse = innovation + 3 * COLUMNS;
  const constant = inverse + 9;
  const growing = constant + 3;
  const slow = growing + 3;
  return { gain: 0, innovation, inverse, constant, growing, slow, stride: slow + blockCount };
}
