/** Rounds of rotations at most; some four are enough. */
const MOST_ROUNDS = 60;
/** Squares off the diagonal below this share of all squares are rounding. */
const SETTLED = 1e-34;

/**
 * Eigenvalues and vectors of a small symmetric matrix, by Jacobi's rotations, without allotting anything.
 *
 * Given: the matrix, n × n row by row; room for as many numbers; n. Returned: in the place of the matrix the diagonal of its
 * eigenvalues, rising, and in the room their unit vectors as columns, row by row, of whatever sign. Reference: textbook (cyclic Jacobi).
 */
export function eigenInPlace(a: Float64Array, vectors: Float64Array, n: number): void {
  for (let at = 0; at < n * n; at += 1) vectors[at] = 0;
  for (let i = 0; i < n; i += 1) vectors[i * n + i] = 1;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < n; i += 1)
      for (let j = 0; j < n; j += 1) {
        const square = a[i * n + j]! * a[i * n + j]!;
        all += square;
        if (i !== j) off += square;
      }
    if (off <= SETTLED * all) break;
    for (let p = 0; p < n; p += 1) for (let q = p + 1; q < n; q += 1) rotate(a, vectors, n, p, q);
  }
  for (let k = 1; k < n; k += 1)
    for (let j = k; j > 0 && a[j * n + j]! < a[(j - 1) * n + j - 1]!; j -= 1) exchange(a, vectors, n, j - 1, j);
}

function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const apq = a[p * n + q]!;
  if (apq === 0) return;
  const ratio = (a[q * n + q]! - a[p * n + p]!) / (2 * apq);
  // Beyond this the square of the ratio would not be finite, and the rotation is one over twice the ratio.
  const t =
    Math.abs(ratio) > 1e150 ? 0.5 / ratio : (ratio >= 0 ? 1 : -1) / (Math.abs(ratio) + Math.sqrt(1 + ratio * ratio));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (let k = 0; k < n; k += 1) turn(a, k * n + p, k * n + q, c, s);
  for (let k = 0; k < n; k += 1) turn(a, p * n + k, q * n + k, c, s);
  for (let k = 0; k < n; k += 1) turn(v, k * n + p, k * n + q, c, s);
}

function turn(of: Float64Array, i: number, j: number, c: number, s: number): void {
  const x = of[i]!;
  const y = of[j]!;
  of[i] = c * x - s * y;
  of[j] = s * x + c * y;
}

/** Exchanges two eigenvalues and their vectors; what is left off the diagonal is rounding. */
function exchange(a: Float64Array, v: Float64Array, n: number, i: number, j: number): void {
  const value = a[i * n + i]!;
  a[i * n + i] = a[j * n + j]!;
  a[j * n + j] = value;
  for (let k = 0; k < n; k += 1) {
    const part = v[k * n + i]!;
    v[k * n + i] = v[k * n + j]!;
    v[k * n + j] = part;
  }
}
