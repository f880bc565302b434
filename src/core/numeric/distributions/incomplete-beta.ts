import { InternalError } from '../../../records/internal-error.js';
import type { Tails } from './incomplete-gamma.js';
import { logOnePlusMinus, stirlingError } from './stirling.js';

const MOST_TERMS = 1_000_000;

/**
 * Regularised incomplete beta function I_x(a, b) and its complement.
 *
 * Given: a, b > 0; x and y = 1 − x, both 0…1 and each with its own full accuracy.
 * Returned: I as `lower`, 1 − I as `upper`, and xᵃ yᵇ / B(a, b), which is the rate of I over
 * ln(x/y), as `slope`.
 * Errors: InternalError when the fraction does not settle. Reference: DLMF, 8.17.22.
 */
export function incompleteBeta(a: number, b: number, x: number, y: number): Tails {
  if (!(x > 0)) return { lower: 0, upper: 1, slope: 0 };
  if (!(y > 0)) return { lower: 1, upper: 0, slope: 0 };
  const n = a + b;
  const apart = x * b - y * a;
  const exponent =
    stirlingError(n) -
    stirlingError(a) -
    stirlingError(b) +
    a * logOnePlusMinus(apart / a, (x * n) / a) +
    b * logOnePlusMinus(-apart / b, (y * n) / b);
  const slope = Math.exp(exponent) * Math.sqrt(((a / n) * b) / (2 * Math.PI));
  if (x * (n + 2) < a + 1) {
    const lower = Math.min(1, (slope / a) * betaFraction(a, b, x));
    return { lower, upper: 1 - lower, slope };
  }
  const upper = Math.min(1, (slope / b) * betaFraction(b, a, y));
  return { lower: 1 - upper, upper, slope };
}

/** The continued fraction of the incomplete beta function, by Lentz's method. */
function betaFraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < MOST_TERMS; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    const step = d * c;
    fraction *= step;
    if (Math.abs(step - 1) < 3e-16) return fraction;
  }
  throw new InternalError(`incomplete beta function of ${String(a)}, ${String(b)}, ${String(x)} did not settle`);
}

function nonZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}
