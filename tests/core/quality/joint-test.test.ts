import { describe, expect, it } from 'vitest';
import { diagonalCovariance } from '../../../src/core/observation/uncertainty/local-covariance.js';
import type { OccupationEstimate } from '../../../src/core/observation/repeats/occupation-estimate.js';
import { jointTest } from '../../../src/core/quality/joint-test.js';

const NONE = diagonalCovariance(0, 0, 0);
const TIMES = { correlationHorizontalS: 115, correlationVerticalS: 300 };
const SIGMA_M = 0.01;

/** Occupations at these heights, of 10 mm each way, that share nothing. */
const stands = (heights: readonly number[]): readonly OccupationEstimate[] =>
  heights.map((upM, index) => ({
    position: { eastM: 0, northM: 0, upM },
    independent: diagonalCovariance(SIGMA_M ** 2, SIGMA_M ** 2, SIGMA_M ** 2),
    correlated: NONE,
    baseline: NONE,
    mark: NONE,
    setup: NONE,
    markKey: 'M',
    setupKey: `S${String(index)}`,
    baselineM: 5000,
    startMs: index * 1e7,
    endMs: index * 1e7,
  }));

// Of independent values of one sigma χ² is the sum of squares about their mean over the variance (textbook). Its 99 % points with
// 3, 6 and 9 degrees of freedom are 11.345, 16.812 and 21.666 (NIST-HANDBOOK 1.3.6.7.4).
describe('jointTest', () => {
  it('has the sum of squares about the mean, its degrees of freedom and its limit', () => {
    const test = jointTest(stands([0, 0.01, 0.02, 0.03]), TIMES, 0.01);
    expect(test.chiSquare).toBeCloseTo(5, 2);
    expect(test.degreesOfFreedom).toBe(9);
    expect(test.limit).toBeCloseTo(21.666, 3);
    expect(test).toMatchObject({ disagrees: false, odd: null });
  });

  it('names the one that stands apart, and nobody where they agree or are two', () => {
    expect(jointTest(stands([0, 0.01, 0.1, 0.005]), TIMES, 0.01)).toMatchObject({ disagrees: true, odd: 2 });
    expect(jointTest(stands([0.1, 0, 0.01]), TIMES, 0.01)).toMatchObject({ disagrees: true, odd: 0 });
    expect(jointTest(stands([0, 0.01, 0.005]), TIMES, 0.01)).toMatchObject({ disagrees: false, odd: null });
    expect(jointTest(stands([0, 0.1]), TIMES, 0.01)).toMatchObject({ disagrees: true, odd: null });
  });

  it('names nobody where two stand apart, so that without one the others still disagree', () => {
    expect(jointTest(stands([0, 0, 0.1, 0.1]), TIMES, 0.01)).toMatchObject({ disagrees: true, odd: null });
    expect(jointTest(stands([0, 0.1, 0.2]), TIMES, 0.01)).toMatchObject({ disagrees: true, odd: null });
  });

  it('holds two heights alone against the limit of one degree of freedom', () => {
    const heights = [
      { plan: false, up: true },
      { plan: false, up: true },
    ];
    // 6.635 at 99 % (NIST-HANDBOOK 1.3.6.7.4); 5 cm are 12.5 times the variance of a difference of two of 1 cm.
    const apart = jointTest(stands([0, 0.05]), TIMES, 0.01, heights);
    expect(apart).toMatchObject({ degreesOfFreedom: 1, disagrees: true, odd: null });
    expect(apart.limit).toBeCloseTo(6.635, 3);
    expect(apart.chiSquare).toBeCloseTo(12.5, 1);
    expect(jointTest(stands([0, 0.03]), TIMES, 0.01, heights).disagrees).toBe(false);
    const nothing = { plan: false, up: false };
    expect(jointTest(stands([0, 0.05]), TIMES, 0.01, [nothing, nothing]).disagrees).toBe(false);
  });

  it('counts only the axes that an occupation has', () => {
    const axes = [
      { plan: true, up: true },
      { plan: true, up: false },
      { plan: false, up: true },
    ];
    const test = jointTest(stands([0, 5, 0.02]), TIMES, 0.01, axes);
    expect(test.degreesOfFreedom).toBe(3);
    expect(test.limit).toBeCloseTo(11.345, 3);
    // Heights of the first and the third: 20² / (2 · 10²).
    expect(test.chiSquare).toBeCloseTo(2, 2);
  });

  it('has no limit to be beyond where nothing is compared', () => {
    expect(jointTest(stands([0]), TIMES, 0.01)).toMatchObject({ degreesOfFreedom: 0, limit: 0, disagrees: false });
  });
});
