import { describe, expect, it } from 'vitest';
import { ageCovariance, ageCovarianceOfMean } from '../../../../src/core/observation/uncertainty/age-covariance.js';
import { ZERO_COVARIANCE } from '../../../../src/core/observation/uncertainty/local-covariance.js';

const ones = (count: number): Float64Array => new Float64Array(count).fill(1);
const even = (agesS: readonly (number | null)[]): Parameters<typeof ageCovarianceOfMean>[0] => ({
  ageS: (index) => agesS[index] ?? null,
  weightsEast: ones(agesS.length),
  weightsNorth: ones(agesS.length),
  weightsUp: ones(agesS.length),
});

describe('ageCovariance', () => {
  it('is the square of rate times age on every axis, and nothing where no age is stated', () => {
    expect(ageCovariance(12, 0.001).eeM2).toBeCloseTo(144e-6, 15);
    expect(ageCovariance(12, 0.002).uuM2).toBeCloseTo(576e-6, 15);
    expect(ageCovariance(null, 0.001)).toBe(ZERO_COVARIANCE);
    expect(ageCovariance(12, 0)).toBe(ZERO_COVARIANCE);
  });

  it('of a stand is that of the mean age, however many epochs', () => {
    // A sawtooth: the one rate of the stand times each age.
    expect(ageCovarianceOfMean(even([1, 2, 3, 4, 5, 1, 2, 3, 4, 5]), 0.001).nnM2).toBeCloseTo(9e-6, 15);
    expect(ageCovarianceOfMean(even(Array.from({ length: 300 }, () => 20)), 0.001).uuM2).toBeCloseTo(400e-6, 12);
  });

  it('leaves out epochs that were screened, and takes those without an age to be as old as the others', () => {
    expect(
      ageCovarianceOfMean({ ...even([2, 90]), weightsEast: [1, 0], weightsNorth: [1, 1], weightsUp: [1, 0] }, 0.001),
    ).toMatchObject({ eeM2: 4e-6, uuM2: 4e-6 });
    expect(ageCovarianceOfMean(even([null, 6, null]), 0.001).eeM2).toBeCloseTo(36e-6, 15);
    expect(ageCovarianceOfMean(even([null, null]), 0.001)).toBe(ZERO_COVARIANCE);
  });

  it('lies between the growths that a published table of one receiver shows', () => {
    // Public web article on correction age and accuracy, 40 rows: stated vertical sigma 12.39 mm + 0.964 mm/s linear,
    // or 18.04 mm and 1.228 mm/s by root-sum-square; observed drift of the height 0.925 mm/s.
    const rate = Math.sqrt(ageCovariance(30, 0.001).uuM2) / 30;
    expect(rate).toBeGreaterThan(0.000925);
    expect(rate).toBeLessThan(0.001228);
  });
});
