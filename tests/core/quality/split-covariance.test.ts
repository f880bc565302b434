import { describe, expect, it } from 'vitest';
import {
  diagonalCovariance,
  sumCovariance,
  ZERO_COVARIANCE,
} from '../../../src/core/observation/uncertainty/local-covariance.js';
import type { PrecisionModel } from '../../../src/core/planning/precision-model.js';
import { splitCovariance } from '../../../src/core/quality/split-covariance.js';

const BASE = { mark: { horizontalM: 0.0036, verticalM: 0.008 }, setup: { horizontalM: 0.0048, verticalM: 0.006 } };
const TOTAL = diagonalCovariance(4e-4, 4e-4, 16e-4);

/** Slow errors of a constant and so much a metre of distance. */
function modelOf(constantM: number, perMetre: number): PrecisionModel {
  const axis = (distanceM: number): ReturnType<PrecisionModel['at']>['horizontal'] => ({
    totalM: Math.hypot(constantM, perMetre * distanceM),
    constantM,
    ionosphereM: 0,
    troposphereM: 0,
    orbitM: 0,
    proportionalM: 0,
  });
  const given = { given: { constantM, ppm: perMetre * 1e6 }, combine: 'rss' } as const;
  return {
    figures: { horizontal: given, vertical: given },
    at: (distanceM) => ({
      horizontal: axis(distanceM),
      vertical: axis(distanceM),
      correlationHorizontalS: 600,
      correlationVerticalS: 600,
    }),
  };
}

describe('splitCovariance', () => {
  it("gives parts that sum to the total: the base its own, slow errors the model's, the rest to the occupation", () => {
    const parts = splitCovariance(TOTAL, { distanceM: 10_000, heightDifferenceM: null }, modelOf(0.005, 1e-6), BASE);
    const sum = sumCovariance(
      sumCovariance(parts.independent, parts.correlated),
      sumCovariance(parts.baseline, sumCovariance(parts.mark, parts.setup)),
    );
    expect(sum.eeM2).toBeCloseTo(TOTAL.eeM2, 15);
    expect(sum.nnM2).toBeCloseTo(TOTAL.nnM2, 15);
    expect(sum.uuM2).toBeCloseTo(TOTAL.uuM2, 15);
    expect(parts.mark.eeM2).toBeCloseTo(0.0036 ** 2, 12);
    expect(parts.setup.uuM2).toBeCloseTo(36e-6, 12);
    expect(parts.correlated.eeM2).toBeCloseTo(25e-6, 12);
    expect(parts.baseline.nnM2).toBeCloseTo(1e-4, 12);
  });

  it('leaves a tenth to the occupation where the model asks for more than there is', () => {
    const parts = splitCovariance(TOTAL, { distanceM: 10_000, heightDifferenceM: 0 }, modelOf(1, 1e-4), BASE);
    expect(parts.independent.eeM2).toBeCloseTo(0.1 * (4e-4 - 36e-6), 12);
    expect(parts.correlated.eeM2).toBeCloseTo(parts.baseline.eeM2, 12);
  });

  it('takes a distance that is not known as none, and a model without slow errors as none', () => {
    const near = splitCovariance(TOTAL, { distanceM: null, heightDifferenceM: null }, modelOf(0.005, 1e-6), BASE);
    expect(near.baseline.eeM2).toBe(0);
    expect(near.correlated.eeM2).toBeCloseTo(25e-6, 12);
    const none = splitCovariance(TOTAL, { distanceM: 0, heightDifferenceM: null }, modelOf(0, 0), BASE);
    expect(none.correlated).toEqual(ZERO_COVARIANCE);
    expect(none.independent.uuM2).toBeCloseTo(16e-4 - 1e-4, 12);
  });

  it('is nothing where nothing is known', () => {
    expect(splitCovariance(null, { distanceM: 1, heightDifferenceM: 0 }, modelOf(0.005, 1e-6), BASE)).toEqual({
      independent: ZERO_COVARIANCE,
      correlated: ZERO_COVARIANCE,
      baseline: ZERO_COVARIANCE,
      mark: ZERO_COVARIANCE,
      setup: ZERO_COVARIANCE,
    });
  });
});
