/**
 * Cholesky factor of a symmetric positive definite matrix: C = L Lᵀ.
 *
 * Given: C, n × n, row by row (only the lower triangle is read); n. Returned: L, row by row, zeros
 * above the diagonal; null when C is not positive definite in double precision, that is when a
 * pivot keeps less than n·2⁻⁵⁰ of its diagonal term.
 */
export function choleskyFactor(matrix: Float64Array, n: number): Float64Array | null {
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let rest = matrix[i * n + j] as number;
      for (let k = 0; k < j; k += 1) rest -= (factor[i * n + k] as number) * (factor[j * n + k] as number);
      if (i === j) {
        const least = 4 * n * Number.EPSILON * (matrix[i * n + i] as number);
        if (!(rest > least && rest < Infinity)) return null;
        factor[i * n + i] = Math.sqrt(rest);
      } else factor[i * n + j] = rest / (factor[j * n + j] as number);
    }
  }
  return factor;
}

/**
 * x with L Lᵀ x = b.
 *
 * Given: L of `choleskyFactor`; n; b, n long (left as it is). Returned: x.
 */
export function choleskySolve(factor: Float64Array, n: number, rightSide: ArrayLike<number>): Float64Array {
  const x = Float64Array.from(rightSide);
  for (let i = 0; i < n; i += 1) {
    let rest = x[i] as number;
    for (let k = 0; k < i; k += 1) rest -= (factor[i * n + k] as number) * (x[k] as number);
    x[i] = rest / (factor[i * n + i] as number);
  }
  for (let i = n - 1; i >= 0; i -= 1) {
    let rest = x[i] as number;
    for (let k = i + 1; k < n; k += 1) rest -= (factor[k * n + i] as number) * (x[k] as number);
    x[i] = rest / (factor[i * n + i] as number);
  }
  return x;
}

/** (L Lᵀ)⁻¹, n × n row by row and exactly symmetric, from L of `choleskyFactor`. */
export function choleskyInverse(factor: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let j = 0; j < n; j += 1) {
    unit.fill(0);
    unit[j] = 1;
    const column = choleskySolve(factor, n, unit);
    for (let i = 0; i <= j; i += 1) {
      inverse[i * n + j] = column[i] as number;
      inverse[j * n + i] = column[i] as number;
    }
  }
  return inverse;
}
