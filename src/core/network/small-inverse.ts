/**
 * Inverse of a small symmetric positive definite matrix.
 *
 * Given: the matrix, n × n row by row; n; the size of each of its unknowns, by which a pivot is judged; the least share of that
 * size a pivot must keep. Returned: the inverse, row by row, exactly symmetric; null where a pivot keeps less.
 */
export function inverseOfSmall(
  matrix: ArrayLike<number>,
  n: number,
  scales: ArrayLike<number>,
  leastPivot: number,
): Float64Array | null {
  // L Lᵀ, then the inverse of L, then its square.
  const root = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let rest = matrix[i * n + j]!;
      for (let k = 0; k < j; k += 1) rest -= root[i * n + k]! * root[j * n + k]!;
      if (i > j) root[i * n + j] = rest / root[j * n + j]!;
      else {
        if (!(rest > leastPivot * scales[i]! && rest < Infinity)) return null;
        root[i * n + i] = Math.sqrt(rest);
      }
    }
  }
  const turned = new Float64Array(n * n);
  for (let j = 0; j < n; j += 1) {
    turned[j * n + j] = 1 / root[j * n + j]!;
    for (let i = j + 1; i < n; i += 1) {
      let sum = 0;
      for (let k = j; k < i; k += 1) sum += root[i * n + k]! * turned[k * n + j]!;
      turned[i * n + j] = -sum / root[i * n + i]!;
    }
  }
  const inverse = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = 0;
      for (let k = i; k < n; k += 1) sum += turned[k * n + i]! * turned[k * n + j]!;
      inverse[i * n + j] = sum;
      inverse[j * n + i] = sum;
    }
  }
  return inverse;
}
