import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlaneTransformation } from './similarity-2d.js';

/** Parameters of EPSG method 9624, by the registry's letters. */
export interface Affine2dParameters {
  readonly a0: number;
  readonly a1: number;
  readonly a2: number;
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
}

/**
 * Affine parametric transformation in the plane (EPSG method 9624).
 *
 * Given: parameters; first and second coordinate in the order of the registry entry.
 * Returned: forward X_t = A₀ + A₁ X + A₂ Y, Y_t = B₀ + B₁ X + B₂ Y, and its inverse by solving.
 * Errors: config-invalid-value where a parameter is not finite, or where the two axes fall together
 * so that the transformation cannot be undone.
 * Reference: IOGP-373-7-2, EPSG method 9624. Inverse: the `inverse` it returns.
 */
export function createAffine2d(parameters: Affine2dParameters): Outcome<PlaneTransformation> {
  const { a0, a1, a2, b0, b1, b2 } = parameters;
  const determinant = a1 * b2 - a2 * b1;
  const size = Math.abs(a1 * b2) + Math.abs(a2 * b1);
  if (!Number.isFinite(a0 + b0 + size) || Math.abs(determinant) <= 1e-14 * size) {
    return failure(
      errorProblem('config-invalid-value', {
        message: 'an affine transformation needs finite parameters and axes in different directions',
        received: `A1 ${String(a1)}, A2 ${String(a2)}, B1 ${String(b1)}, B2 ${String(b2)}`,
      }),
    );
  }
  return success({
    forward(first, second, out) {
      out.first = a0 + a1 * first + a2 * second;
      out.second = b0 + b1 * first + b2 * second;
    },
    inverse(first, second, out) {
      const x = first - a0;
      const y = second - b0;
      out.first = (b2 * x - a2 * y) / determinant;
      out.second = (a1 * y - b1 * x) / determinant;
    },
  });
}
