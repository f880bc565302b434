import { choleskyFactor, choleskySolve } from '../../numeric/linear-solve.js';

/** Turns vectors of observations into ones with unit independent noise: v → L⁻¹v, where C = LLᵀ. */
export interface Whitener {
  readonly size: number;
  /** ln |C|. */
  readonly logDeterminant: number;
  readonly whiten: (vector: Float64Array) => Float64Array;
  /** The way back: v → Lv. */
  readonly colour: (vector: Float64Array) => Float64Array;
  /** Column of L⁻¹ for one observation. */
  readonly column: (index: number) => Float64Array;
}

/** A whitener of a covariance; null where it is not positive definite. */
export function createWhitener(covariance: Float64Array, size: number): Whitener | null {
  const factor = choleskyFactor(covariance, size);
  if (factor === null) return null;
  const columns: (Float64Array | undefined)[] = [];
  function whiten(vector: Float64Array): Float64Array {
    const out = Float64Array.from(vector);
    forward(factor as Float64Array, size, out, 0);
    return out;
  }
  let logDeterminant = 0;
  for (let i = 0; i < size; i += 1) logDeterminant += 2 * Math.log(factor[i * size + i] as number);
  return {
    size,
    logDeterminant,
    whiten,
    colour: (vector) =>
      vector.map((_, i) => {
        let sum = 0;
        for (let k = 0; k <= i; k += 1) sum += (factor[i * size + k] as number) * (vector[k] as number);
        return sum;
      }),
    column(index) {
      const known = columns[index];
      if (known !== undefined) return known;
      const out = new Float64Array(size);
      out[index] = 1;
      forward(factor, size, out, index);
      columns[index] = out;
      return out;
    },
  };
}

function forward(factor: Float64Array, size: number, out: Float64Array, from: number): void {
  for (let i = from; i < size; i += 1) {
    let rest = out[i] as number;
    const row = i * size;
    for (let k = from; k < i; k += 1) rest -= (factor[row + k] as number) * (out[k] as number);
    out[i] = rest / (factor[row + i] as number);
  }
}

/** A fit of whitened columns to whitened values. */
export interface WhitenedFit {
  readonly chiSquare: number;
  readonly estimates: readonly number[];
  readonly sigmas: readonly number[];
}

/**
 * Least squares of whitened values on whitened columns. Returned: χ² after the fit, estimates and sigmas; null where the
 * columns do not determine them.
 */
export function fitWhitened(values: Float64Array, columns: readonly Float64Array[]): WhitenedFit | null {
  const n = values.length;
  const k = columns.length;
  const normal = new Float64Array(k * k);
  const right = new Float64Array(k);
  for (let a = 0; a < k; a += 1) {
    const ca = columns[a] as Float64Array;
    right[a] = dot(ca, values, n);
    for (let b = 0; b <= a; b += 1) {
      const value = dot(ca, columns[b] as Float64Array, n);
      normal[a * k + b] = value;
      normal[b * k + a] = value;
    }
  }
  const factor = choleskyFactor(normal, k);
  if (factor === null) return null;
  const estimates = choleskySolve(factor, k, right);
  let chiSquare = 0;
  for (let i = 0; i < n; i += 1) {
    let rest = values[i] as number;
    for (let a = 0; a < k; a += 1) rest -= (estimates[a] as number) * ((columns[a] as Float64Array)[i] as number);
    chiSquare += rest * rest;
  }
  const sigmas = [...estimates].map((_, a) => {
    const unit = new Float64Array(k);
    unit[a] = 1;
    return Math.sqrt(choleskySolve(factor, k, unit)[a] as number);
  });
  return { chiSquare, estimates: [...estimates], sigmas };
}

function dot(a: Float64Array, b: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

/** What is left of a vector across orthonormal directions. */
export function across(vector: Float64Array, directions: readonly Float64Array[]): Float64Array {
  if (directions.length === 0) return vector;
  const out = Float64Array.from(vector);
  for (const direction of directions) {
    const along = dot(direction, out, out.length);
    for (let i = 0; i < out.length; i += 1) out[i] = (out[i] as number) - along * (direction[i] as number);
  }
  return out;
}

/** Directions with those of further columns, orthonormal; a column that lies along them adds none. */
export function withDirections(
  directions: readonly Float64Array[],
  columns: readonly Float64Array[],
): readonly Float64Array[] {
  const all = [...directions];
  for (const column of columns) {
    const left = across(across(column, all), all);
    const length = Math.sqrt(dot(left, left, left.length));
    if (isAcross(left, column)) all.push(left.map((value) => value / length));
  }
  return all;
}

/** Share of a column's square below which what is left of it is rounding. */
const LEAST_SHARE = 1e-8;

/** Whether what is left of a column still says something of it. */
export function isAcross(left: Float64Array, column: Float64Array): boolean {
  return dot(left, left, left.length) > LEAST_SHARE * dot(column, column, column.length);
}
