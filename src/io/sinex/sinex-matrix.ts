import { choleskyFactor, choleskyInverse } from '../../core/numeric/linear-solve.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { entryAt } from '../../records/present.js';
import { sinexNumber } from './sinex-fields.js';
import { unreadable } from './sinex-read.js';
import type { SinexFile, SinexLine } from './sinex-read.js';

/** A normal matrix of more parameters is not inverted here: it would take minutes. */
const LARGEST_INVERTED = 1200;

/**
 * The covariance of some parameters of a SINEX file, from SOLUTION/MATRIX_ESTIMATE in any of its six forms.
 *
 * Given: the file; the indices wanted, from 1; the sigma of each, for a file without a matrix. Returned: their covariance,
 * row by row, in the units of the estimates. Of CORR the diagonal holds sigmas and the rest correlations; INFO is the normal
 * matrix, which is inverted whole.
 * Problems: sinex-unreadable for a line that is none of a matrix; sinex-unsupported for a normal matrix that is too large or
 * not positive definite, and where a parameter has no variance, which would be taken for exact.
 * Reference: SINEX 2.02, SOLUTION/MATRIX_ESTIMATE.
 */
export function sinexCovariance(
  file: SinexFile,
  wanted: readonly number[],
  sigmas: readonly number[],
): Outcome<Float64Array> {
  const n = wanted.length;
  const name = [...file.blocks.keys()].find((key) =>
    /^SOLUTION\/MATRIX_ESTIMATE\s+[LU]\s+(?:COVA|CORR|INFO)$/u.test(key),
  );
  if (name === undefined) {
    const diagonal = new Float64Array(n * n);
    sigmas.forEach((sigma, i) => (diagonal[i * n + i] = sigma * sigma));
    return withVariances(diagonal, n);
  }
  const lines = file.blocks.get(name) ?? [];
  if (name.endsWith('INFO')) return fromNormals(lines, wanted);
  const places = new Map(wanted.map((index, place) => [index, place]));
  const picked = new Float64Array(n * n);
  const fault = eachElement(lines, (row, column, value) => {
    const [i, j] = [places.get(row), places.get(column)];
    if (i === undefined || j === undefined) return;
    picked[i * n + j] = value;
    picked[j * n + i] = value;
  });
  if (fault !== null) return fault;
  return withVariances(name.endsWith('CORR') ? fromCorrelations(picked, n) : picked, n);
}

function fromCorrelations(matrix: Float64Array, n: number): Float64Array {
  const at = (i: number, j: number): number => matrix[i * n + j] as number;
  return Float64Array.from({ length: n * n }, (_, place) => {
    const [i, j] = [Math.floor(place / n), place % n];
    return i === j ? at(i, i) ** 2 : at(i, j) * at(i, i) * at(j, j);
  });
}

function fromNormals(lines: readonly SinexLine[], wanted: readonly number[]): Outcome<Float64Array> {
  let size = 0;
  const sized = eachElement(lines, (row, column) => (size = Math.max(size, row, column)));
  if (sized !== null) return sized;
  if (size > LARGEST_INVERTED)
    return unsupported(`its normal matrix has ${String(size)} parameters, more than ${String(LARGEST_INVERTED)}`);
  const normals = new Float64Array(size * size);
  eachElement(lines, (row, column, value) => {
    normals[(row - 1) * size + column - 1] = value;
    normals[(column - 1) * size + row - 1] = value;
  });
  const factor = choleskyFactor(normals, size);
  if (factor === null) return unsupported('its normal matrix is not positive definite: constraints are missing');
  const inverse = choleskyInverse(factor, size);
  const n = wanted.length;
  return withVariances(
    Float64Array.from({ length: n * n }, (_, place) => {
      const [i, j] = [entryAt(wanted, Math.floor(place / n)), entryAt(wanted, place % n)];
      return Math.max(i, j) > size ? 0 : (inverse[(i - 1) * size + j - 1] as number);
    }),
    n,
  );
}

/** A covariance whose every parameter has a variance: one without would be taken for exact. */
function withVariances(covariance: Float64Array, n: number): Outcome<Float64Array> {
  for (let i = 0; i < n; i += 1)
    if (!((covariance[i * n + i] as number) > 0))
      return unsupported('it states no variance of a parameter of the site');
  return success(covariance);
}

/** Hands on every element; the problem of a line that is none of a matrix, else null. */
function eachElement(
  lines: readonly SinexLine[],
  take: (row: number, column: number, value: number) => void,
): Outcome<never> | null {
  for (const { line, text } of lines) {
    const [row, column, ...values] = text.trim().split(/\s+/u).map(sinexNumber);
    if (row == null || column == null || values.length === 0 || values.length > 3 || values.includes(null))
      return unreadable(line, 'the line is none of a matrix', 'row, column and up to three numbers');
    for (const [offset, value] of values.entries()) take(row, column + offset, value ?? Number.NaN);
  }
  return null;
}

function unsupported(message: string): Outcome<never> {
  return failure(
    errorProblem('sinex-unsupported', { message, hint: 'ask for the solution with COVA or CORR, or cut to the site' }),
  );
}
