/** Eigenvalues, rising, and their unit vectors of a symmetric matrix. */
export interface SymmetricEigen {
  readonly values: Float64Array;
  /** Vector k is column k, row by row in the matrix. */
  readonly vectors: Float64Array;
}

/**
 * Eigenvalues and vectors of a small symmetric matrix, by Jacobi's rotations.
 *
 * Given: the matrix, n × n row by row (left as it is); n. Returned: values rising, each with its vector; the sign of a vector is
 * such that its largest component is positive. Reference: textbook (cyclic Jacobi).
 */
export function symmetricEigen(matrix: ArrayLike<number>, n: number): SymmetricEigen {
  const a = Float64Array.from(matrix);
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) v[i * n + i] = 1;
  for (let turn = 0; turn < 60; turn += 1) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < n; i += 1)
      for (let j = 0; j < n; j += 1) {
        const square = a[i * n + j]! ** 2;
        all += square;
        if (i !== j) off += square;
      }
    if (off <= 1e-34 * all) break;
    for (let p = 0; p < n; p += 1) for (let q = p + 1; q < n; q += 1) rotate(a, v, n, p, q);
  }
  const order = Array.from({ length: n }, (_, index) => index).sort((i, j) => a[i * n + i]! - a[j * n + j]!);
  const vectors = new Float64Array(n * n);
  order.forEach((from, to) => {
    let largest = 0;
    for (let i = 0; i < n; i += 1)
      if (Math.abs(v[i * n + from]!) > Math.abs(largest) + 1e-12) largest = v[i * n + from]!;
    for (let i = 0; i < n; i += 1) vectors[i * n + to] = v[i * n + from]! * (largest < 0 ? -1 : 1);
  });
  return { values: Float64Array.from(order, (from) => a[from * n + from]!), vectors };
}

function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const apq = a[p * n + q]!;
  if (apq === 0) return;
  const ratio = (a[q * n + q]! - a[p * n + p]!) / (2 * apq);
  const t = (ratio >= 0 ? 1 : -1) / (Math.abs(ratio) + Math.hypot(1, ratio));
  const c = 1 / Math.hypot(1, t);
  const s = t * c;
  const turn = (of: Float64Array, i: number, j: number): void => {
    const x = of[i]!;
    const y = of[j]!;
    of[i] = c * x - s * y;
    of[j] = s * x + c * y;
  };
  for (let k = 0; k < n; k += 1) turn(a, k * n + p, k * n + q);
  for (let k = 0; k < n; k += 1) turn(a, p * n + k, q * n + k);
  for (let k = 0; k < n; k += 1) turn(v, k * n + p, k * n + q);
}
