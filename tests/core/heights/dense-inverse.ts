/** The inverse of a square matrix by elimination with pivots, row by row: the plain way, to check the other. */
export function denseInverse(matrix: Float64Array, n: number): Float64Array | null {
  const rows = Array.from({ length: n }, (_, i) => [
    ...matrix.subarray(i * n, (i + 1) * n),
    ...Array.from({ length: n }, (__, j) => (i === j ? 1 : 0)),
  ]);
  for (let k = 0; k < n; k += 1) {
    let pivot = k;
    for (let i = k + 1; i < n; i += 1) if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    const lead = rows[k]![k]!;
    if (!(Math.abs(lead) > 1e-12 * Math.abs(matrix[0] ?? 1))) return null;
    rows[k] = rows[k]!.map((value) => value / lead);
    for (let i = 0; i < n; i += 1) {
      const times = rows[i]![k]!;
      if (i !== k && times !== 0) rows[i] = rows[i]!.map((value, j) => value - times * rows[k]![j]!);
    }
  }
  return Float64Array.from(rows.flatMap((row) => row.slice(n)));
}
