import { InternalError } from '../../../records/internal-error.js';
import { logOnePlusMinus, stirlingError } from './stirling.js';

/** Both tails of a distribution at a place, each with its own full relative accuracy where small. */
export interface Tails {
  readonly lower: number;
  readonly upper: number;
  /** Rate of change of `lower`; over what is said by the function that returns it. */
  readonly slope: number;
}

const MOST_TERMS = 1_000_000;

/**
 * Regularised incomplete gamma functions P(a, x) and Q(a, x) = 1 − P.
 *
 * Given: a > 0; x ≥ 0. Returned: P as `lower`, Q as `upper`, and x·dP/dx as `slope`.
 * Method: series for x < a + 1, continued fraction above; the factor xᵃ e⁻ˣ / Γ(a) is formed from
 * the distance of x from a, so that large a loses no digits.
 * Errors: InternalError when the terms do not settle. Reference: DLMF, 8.11.4 and 8.9.2.
 */
export function incompleteGamma(a: number, x: number): Tails {
  if (!(x > 0)) return { lower: 0, upper: 1, slope: 0 };
  const overGamma = Math.exp(a * logOnePlusMinus((x - a) / a, x / a) - stirlingError(a)) * Math.sqrt(a / (2 * Math.PI));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < MOST_TERMS; n += 1) {
      term *= x / (a + n);
      sum += term;
      if (term < sum * 1e-17) {
        const lower = Math.min(1, overGamma * sum);
        return { lower, upper: 1 - lower, slope: overGamma };
      }
    }
  } else {
    let b = x + 1 - a;
    let c = 1e300;
    let d = 1 / b;
    let fraction = d;
    for (let n = 1; n < MOST_TERMS; n += 1) {
      const numerator = -n * (n - a);
      b += 2;
      d = 1 / nonZero(numerator * d + b);
      c = nonZero(b + numerator / c);
      const step = d * c;
      fraction *= step;
      if (Math.abs(step - 1) < 3e-16) {
        const upper = Math.min(1, overGamma * fraction);
        return { lower: 1 - upper, upper, slope: overGamma };
      }
    }
  }
  throw new InternalError(`incomplete gamma function of ${String(a)}, ${String(x)} did not settle`);
}

function nonZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}
