import { InternalError } from '../../records/internal-error.js';
import { choleskyFactor, choleskyInverse, choleskySolve } from '../numeric/linear-solve.js';

/**
 * Observation equations l + v = A x with weights in blocks: observations come in groups of
 * `blockSize` that correlate among themselves and with no others.
 */
export interface ObservationEquations {
  readonly observations: number;
  readonly unknowns: number;
  /** A, row by row. */
  readonly design: Float64Array;
  /** l, in the unit of the observations. */
  readonly observed: Float64Array;
  /** 1 or 2. */
  readonly blockSize: 1 | 2;
  /** Inverse covariance of each block, row by row, blocks one after the other. */
  readonly weights: Float64Array;
}

/** A least-squares solution. */
export interface Adjustment {
  readonly unknowns: Float64Array;
  /** (Aᵀ P A)⁻¹, row by row: the covariance of the unknowns when the weights are right. */
  readonly cofactor: Float64Array;
  /** v = A x − l, in the unit of the observations. */
  readonly residuals: Float64Array;
  /** Observations less unknowns. */
  readonly redundancy: number;
  /** vᵀ P v, no unit: about the redundancy when the weights are right. */
  readonly weightedSquares: number;
  /** A (AᵀPA)⁻¹ Aᵀ in the diagonal blocks only, blocks one after the other. */
  readonly fittedCofactor: Float64Array;
}

/**
 * Least squares: x = (Aᵀ P A)⁻¹ Aᵀ P l.
 *
 * Given: the equations. Returned: the solution; null when the unknowns are not determined by the
 * observations (the normal matrix is not positive definite in double precision).
 * Errors: InternalError when the sizes do not match.
 * Reference: AITKEN-1935. Nothing is rounded or removed here.
 */
export function adjustObservations(equations: ObservationEquations): Adjustment | null {
  const { observations: m, unknowns: u, design, observed, blockSize: size, weights } = equations;
  if (design.length !== m * u || observed.length !== m || m % size !== 0 || weights.length !== m * size) {
    throw new InternalError('observation equations of unequal sizes');
  }
  const normal = new Float64Array(u * u);
  const right = new Float64Array(u);
  for (let block = 0; block < m; block += size) {
    for (let r = 0; r < size; r += 1) {
      for (let s = 0; s < size; s += 1) {
        const weight = weights[block * size + r * size + s] as number;
        if (weight === 0) continue;
        for (let i = 0; i < u; i += 1) {
          const a = weight * (design[(block + r) * u + i] as number);
          right[i] = (right[i] as number) + a * (observed[block + s] as number);
          for (let j = 0; j < u; j += 1)
            normal[i * u + j] = (normal[i * u + j] as number) + a * (design[(block + s) * u + j] as number);
        }
      }
    }
  }
  const factor = choleskyFactor(normal, u);
  if (factor === null) return null;
  const x = choleskySolve(factor, u, right);
  const cofactor = choleskyInverse(factor, u);
  const residuals = new Float64Array(m);
  for (let k = 0; k < m; k += 1) {
    let fitted = 0;
    for (let i = 0; i < u; i += 1) fitted += (design[k * u + i] as number) * (x[i] as number);
    residuals[k] = fitted - (observed[k] as number);
  }
  return {
    unknowns: x,
    cofactor,
    residuals,
    redundancy: m - u,
    weightedSquares: squares(residuals, weights, size),
    fittedCofactor: blocksOf(design, cofactor, m, u, size),
  };
}

function squares(residuals: Float64Array, weights: Float64Array, size: number): number {
  let sum = 0;
  for (let block = 0; block < residuals.length; block += size) {
    for (let r = 0; r < size; r += 1) {
      for (let s = 0; s < size; s += 1)
        sum +=
          (residuals[block + r] as number) *
          (weights[block * size + r * size + s] as number) *
          (residuals[block + s] as number);
    }
  }
  return sum;
}

/** Diagonal blocks of A Q Aᵀ. */
function blocksOf(design: Float64Array, cofactor: Float64Array, m: number, u: number, size: number): Float64Array {
  const blocks = new Float64Array(m * size);
  for (let block = 0; block < m; block += size) {
    for (let r = 0; r < size; r += 1) {
      for (let s = 0; s < size; s += 1) {
        let sum = 0;
        for (let i = 0; i < u; i += 1) {
          for (let j = 0; j < u; j += 1)
            sum +=
              (design[(block + r) * u + i] as number) *
              (cofactor[i * u + j] as number) *
              (design[(block + s) * u + j] as number);
        }
        blocks[block * size + r * size + s] = sum;
      }
    }
  }
  return blocks;
}
