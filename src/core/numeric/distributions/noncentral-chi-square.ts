import { chiSquareQuantile, chiSquareUpperTail } from './chi-square.js';
import { checkDegreesOfFreedom, checkProbability } from './probability.js';
import { solveIncreasing } from './solve-increasing.js';

/**
 * Probability that a noncentral χ² is above x.
 *
 * Given: x, 0 or above; degrees of freedom, above 0; noncentrality λ, 0 or above, up to some thousands. Returned: 0…1.
 * Method: the Poisson mixture of central tails, from its middle outwards. Reference: NIST-HANDBOOK, 1.3.6.6.6 for the central
 * one; the mixture is its definition.
 */
export function noncentralChiSquareUpperTail(x: number, degreesOfFreedom: number, noncentrality: number): number {
  checkDegreesOfFreedom(degreesOfFreedom);
  const half = noncentrality / 2;
  if (half === 0) return chiSquareUpperTail(x, degreesOfFreedom);
  const middle = Math.floor(half);
  let logFactorial = 0;
  for (let j = 2; j <= middle; j += 1) logFactorial += Math.log(j);
  const weight = Math.exp(-half + middle * Math.log(half) - logFactorial);
  const tail = (j: number): number => chiSquareUpperTail(x, degreesOfFreedom + 2 * j);
  let sum = weight * tail(middle);
  let share = weight;
  for (let j = middle + 1; share > 1e-18; j += 1) {
    share *= half / j;
    sum += share * tail(j);
  }
  share = weight;
  for (let j = middle; j > 0 && share > 1e-18; j -= 1) {
    share *= j / half;
    sum += share * tail(j - 1);
  }
  return Math.min(1, sum);
}

/**
 * The noncentrality λ₀ at which a χ² test finds what it looks for with the stated power.
 *
 * Given: chance of a false alarm and power, each above 0 and below 1, the power the larger; degrees of freedom of the test.
 * Returned: λ₀; in one dimension (z(1 − α/2) + z(power))², but for the other tail. Reference: BAARDA-1968.
 */
export function noncentralityFor(falseAlarm: number, power: number, degreesOfFreedom: number): number {
  checkProbability(falseAlarm);
  checkProbability(power);
  const limit = chiSquareQuantile(1 - falseAlarm, degreesOfFreedom);
  const at = (noncentrality: number): number =>
    noncentralChiSquareUpperTail(limit, degreesOfFreedom, noncentrality) - power;
  // d/dλ of the tail with n degrees is half of what the tail gains with n + 2.
  return solveIncreasing(
    (noncentrality) => ({
      value: at(noncentrality),
      slope: (noncentralChiSquareUpperTail(limit, degreesOfFreedom + 2, noncentrality) - at(noncentrality) - power) / 2,
    }),
    limit,
    0,
  );
}
