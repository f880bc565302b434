import * as decimal from './fixed-decimals.js';

type Matrix = readonly (readonly bigint[])[];

/** Gauss and Jordan, with the largest pivot. */
function inverse(matrix: Matrix): Matrix {
  const size = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? decimal.ONE : 0n))]);
  for (let k = 0; k < size; k += 1) {
    let pivot = k;
    for (let i = k + 1; i < size; i += 1)
      if (decimal.absolute(rows[i]![k]!) > decimal.absolute(rows[pivot]![k]!)) pivot = i;
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    const by = rows[k]![k]!;
    rows[k] = rows[k]!.map((value) => decimal.over(value, by));
    for (let i = 0; i < size; i += 1) {
      if (i === k) continue;
      const factor = rows[i]![k]!;
      rows[i] = rows[i]!.map((value, j) => value - decimal.times(factor, rows[k]![j]!));
    }
  }
  return rows.map((row) => row.slice(size));
}

/** The weights of a join from its printed covariance: (AᵀC⁻¹A)⁻¹AᵀC⁻¹, by the names they are printed under. */
export function jointWeights(table: ReadonlyMap<string, readonly string[]>): ReadonlyMap<string, bigint> {
  const names = [...table.keys()];
  const columns = [...table.values()].map((cells) => cells.map(decimal.fromText));
  const c = inverse(names.map((_, row) => columns.map((column) => column[row]!)));
  const seen = [0, 1, 2].map((axis) =>
    names.map((_, column) => c.reduce((sum, row, at) => sum + (at % 3 === axis ? row[column]! : 0n), 0n)),
  );
  const normal = inverse(
    seen.map((row) =>
      [0, 1, 2].map((axis) => row.reduce((sum, value, at) => sum + (at % 3 === axis ? value : 0n), 0n)),
    ),
  );
  return new Map(
    ['E', 'N', 'U'].flatMap((axis, at) =>
      names.map((name, column) => [
        `W${name.slice(3)}_${axis}${name.slice(2, 3)}`,
        normal[at]!.reduce((sum, value, k) => sum + decimal.times(value, seen[k]![column]!), 0n),
      ]),
    ),
  );
}
