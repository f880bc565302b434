import { describe, expect, it } from 'vitest';
import { chiSquareQuantile } from '../../../src/core/numeric/chi-square.js';
import { NOISY_DAY_LEVEL } from '../../../src/core/quality/decision-levels.js';
import { dayVariance } from '../../../src/core/quality/day-variance.js';
import type { Contrast } from '../../../src/core/quality/day-variance.js';

/** Normal deviates from a generator of the test's own (a multiplicative congruence and the polar method). */
function normals(seed: number): () => number {
  let state = seed;
  const uniform = (): number => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
  return () => {
    for (;;) {
      const [x, y] = [2 * uniform() - 1, 2 * uniform() - 1];
      const square = x * x + y * y;
      if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square);
    }
  };
}

const oneClass = (contrasts: readonly Contrast[]): Parameters<typeof dayVariance>[0] => [{ fromM: 20_000, toM: Infinity, contrasts }];

describe('dayVariance', () => {
  it('is the textbook interval of a variance where nothing else is in the contrasts', () => {
    // Ten squares that sum to 30: 10 degrees of freedom, 3 (1.46 to 9.24); the 97.5 and 2.5 % points of chi-square are 20.483 and 3.247
    // (NIST handbook, table 1.3.6.7.4).
    const contrasts = Array.from({ length: 10 }, () => ({ differenceM: Math.sqrt(3), modelM2: 1, otherM2: 0 }));
    const [found] = dayVariance(oneClass(contrasts));
    expect(found?.factor).toBeCloseTo(3, 9);
    expect(found?.low95).toBeCloseTo(30 / 20.483, 3);
    expect(found?.high95).toBeCloseTo(30 / 3.247, 2);
    expect(found?.isNoisier).toBe(30 > chiSquareQuantile(1 - NOISY_DAY_LEVEL, 10));
  });

  it('holds the true factor in 95 of 100 days, whatever share of the variance it does not multiply', () => {
    const random = normals(20_261_128);
    for (const [truth, share] of [[1, 0.2], [2.1, 0.5], [4, 0.1]] as const) {
      let held = 0;
      const days = 1200;
      for (let day = 0; day < days; day += 1) {
        const contrasts = Array.from({ length: 12 }, (_, i) => {
          const modelM2 = (1 + (i % 4)) * 1e-4;
          const otherM2 = share * modelM2;
          return { differenceM: Math.sqrt(truth * modelM2 + otherM2) * random(), modelM2, otherM2 };
        });
        const [found] = dayVariance(oneClass(contrasts));
        if (found !== undefined && found.low95 <= truth && truth <= found.high95) held += 1;
      }
      // Three standard errors of a share of 0.95 in 1,200 days are 0.019.
      expect(held / days).toBeGreaterThan(0.931);
      expect(held / days).toBeLessThan(0.969);
    }
  }, 60_000);

  it('calls a clean day noisy in less than one of 100, over all classes together, and a day of three times the sigma nearly always', () => {
    const random = normals(7);
    let clean = 0;
    let noisy = 0;
    const days = 2000;
    const classes = (sigma: number): Parameters<typeof dayVariance>[0] =>
      [[0, 10_000], [10_000, 20_000], [20_000, Infinity]].map(([fromM = 0, toM = 0]) => ({ fromM, toM, contrasts: Array.from({ length: 9 }, () => ({ differenceM: 0.01 * sigma * random(), modelM2: 1e-4, otherM2: 0 })) }));
    for (let day = 0; day < days; day += 1) {
      if (dayVariance(classes(1)).some(({ isNoisier }) => isNoisier)) clean += 1;
      if (dayVariance(classes(3)).some(({ isNoisier }) => isNoisier)) noisy += 1;
    }
    // The level is 0.01; three standard errors in 2,000 days are 0.0067.
    expect(clean / days).toBeLessThan(0.0167);
    expect(clean / days).toBeGreaterThan(0.0033);
    expect(noisy / days).toBeGreaterThan(0.99);
  }, 60_000);

  it('says 0 where the rest explains the contrasts, and leaves out classes that hold none', () => {
    expect(dayVariance([{ fromM: 0, toM: 10_000, contrasts: [] }])).toEqual([]);
    const [found] = dayVariance(oneClass([{ differenceM: 0.001, modelM2: 1e-4, otherM2: 1e-4 }, { differenceM: 0, modelM2: 1e-4, otherM2: 1e-4 }]));
    expect(found).toMatchObject({ factor: 0, low95: 0, isNoisier: false });
  });
});
