import { describe, expect, it } from 'vitest';
import { chiSquareUpperTail } from '../../../../src/core/numeric/distributions/chi-square.js';
import { criterionAt, dayVariance, estimatedAllowance } from '../../../../src/core/quality/day/day-variance.js';
import type { Contrast, ContrastLink } from '../../../../src/core/quality/day/day-variance.js';

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

/** S(f) and its degrees of freedom as the page of the method writes them, contrast by contrast. */
function plainly(
  contrasts: readonly Contrast[],
  links: readonly ContrastLink[],
  factor: number,
): { readonly mean: number; readonly degreesOfFreedom: number } {
  const variances = contrasts.map(({ modelM2, otherM2 }) => factor * modelM2 + otherM2);
  const weights = contrasts.map(({ modelM2 }, i) => (factor * modelM2) / variances[i]!);
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const squares = contrasts.reduce((total, { differenceM: d }, i) => total + (weights[i]! * d * d) / variances[i]!, 0);
  const own = weights.reduce((total, weight) => total + weight ** 2, 0);
  const shared = links.reduce((total, { first, second, modelM2, otherM2, pairs }) => {
    const correlation2 = (factor * modelM2 + otherM2) ** 2 / (variances[first]! * variances[second]!);
    return total + pairs * weights[first]! * weights[second]! * correlation2;
  }, 0);
  return { mean: squares / sum, degreesOfFreedom: sum ** 2 / (own + shared) };
}

describe('dayVariance', () => {
  it('solves the equations as they are written, contrast by contrast, linked or not', () => {
    const random = normals(19);
    for (let run = 0; run < 40; run += 1) {
      const contrasts = Array.from({ length: 2 + run }, (_, i) => ({
        differenceM: 0.03 * random(),
        modelM2: 1e-4 * (i % 4),
        otherM2: run % 3 === 0 ? 1e-6 : 5e-5,
      }));
      const links = Array.from({ length: run % 5 }, (_, i) => ({
        first: i % contrasts.length,
        second: (i + 1) % contrasts.length,
        modelM2: 2e-5,
        otherM2: 1e-5,
        pairs: 2,
      }));
      const { factor, low95, high95, probability, degreesOfFreedom } = dayVariance(contrasts, links);
      const tail = (f: number): number => {
        const { mean, degreesOfFreedom: freedom } = plainly(contrasts, links, f);
        return chiSquareUpperTail(freedom * mean, freedom);
      };
      if (factor > 0) expect(plainly(contrasts, links, factor).mean).toBeCloseTo(1, 8);
      if (low95 > 0 && Number.isFinite(low95)) expect(tail(low95)).toBeCloseTo(0.025, 8);
      if (high95 > 0 && Number.isFinite(high95)) expect(tail(high95)).toBeCloseTo(0.975, 8);
      expect(probability).toBeCloseTo(tail(1), 12);
      expect(degreesOfFreedom).toBeCloseTo(plainly(contrasts, links, Math.max(factor, 1)).degreesOfFreedom, 9);
    }
  });

  it('is the textbook interval and test of a variance where nothing else is in the contrasts', () => {
    // Ten squares that sum to 30: 10 degrees of freedom, 3 (1.46 to 9.24); the 97.5 and 2.5 % points of chi-square are 20.483 and 3.247
    // (NIST handbook, table 1.3.6.7.4).
    const contrasts = Array.from({ length: 10 }, () => ({ differenceM: Math.sqrt(3), modelM2: 1, otherM2: 0 }));
    const found = dayVariance(contrasts);
    expect(found.degreesOfFreedom).toBeCloseTo(10, 9);
    expect(found.factor).toBeCloseTo(3, 9);
    expect(found.low95).toBeCloseTo(30 / 20.483, 3);
    expect(found.high95).toBeCloseTo(30 / 3.247, 2);
    expect(found.probability).toBeCloseTo(chiSquareUpperTail(30, 10), 12);
  });

  it('is where the likelihood is largest', () => {
    const random = normals(77);
    const contrasts = Array.from({ length: 24 }, (_, i) => ({
      differenceM: 0.02 * random(),
      modelM2: (i % 5) * 5e-5,
      otherM2: 1e-4,
    }));
    const { factor } = dayVariance(contrasts);
    expect(factor).toBeGreaterThan(1);
    const of = (key: 'differenceM' | 'modelM2' | 'otherM2'): Float64Array =>
      Float64Array.from(contrasts, (own) => own[key]);
    const arrays = { difference: of('differenceM'), model: of('modelM2'), other: of('otherM2') };
    // By search, without the score equation.
    const best = Array.from({ length: 4000 }, (_, i) => 0.005 * (i + 1)).reduce(
      (least, f) => (criterionAt(arrays, f) < criterionAt(arrays, least) ? f : least),
      1,
    );
    expect(factor).toBeCloseTo(best, 1);
  });

  it('counts contrasts that are one as one', () => {
    const contrasts = Array.from({ length: 6 }, () => ({ differenceM: 2, modelM2: 1, otherM2: 0 }));
    const links: ContrastLink[] = [];
    for (let second = 0; second < 6; second += 1)
      for (let first = 0; first < second; first += 1) links.push({ first, second, modelM2: 1, otherM2: 0, pairs: 2 });
    const found = dayVariance(contrasts, links);
    // One difference of 2 with unit variance: 4, of one degree of freedom; the points of χ² with one are 5.024 and 0.000982 (same table).
    expect(found).toMatchObject({ degreesOfFreedom: 1 });
    expect(found.factor).toBeCloseTo(4, 9);
    expect(found.low95).toBeCloseTo(4 / 5.024, 3);
    expect(found.probability).toBeCloseTo(0.0455, 4);
  });

  it('holds the true factor in 95 of 100 days, whatever share of the variance it does not multiply', () => {
    const random = normals(20_261_128);
    for (const [truth, share] of [
      [1, 0.2],
      [2.1, 0.5],
      [4, 0.1],
      [7, 2],
    ] as const) {
      let held = 0;
      const days = 1200;
      for (let day = 0; day < days; day += 1) {
        const contrasts = Array.from({ length: 24 }, (_, i) => {
          const modelM2 = (1 + (i % 4)) * 1e-4;
          const otherM2 = share * 1e-4;
          return { differenceM: Math.sqrt(truth * modelM2 + otherM2) * random(), modelM2, otherM2 };
        });
        const found = dayVariance(contrasts);
        if (found.low95 <= truth && truth <= found.high95) held += 1;
      }
      // Three standard errors of a share of 0.95 in 1,200 days are 0.019.
      expect(held / days).toBeGreaterThan(0.931);
      expect(held / days).toBeLessThan(0.969);
    }
  }, 60_000);

  it('says 0 where the rest explains the contrasts', () => {
    expect(
      dayVariance([
        { differenceM: 0.001, modelM2: 1e-4, otherM2: 1e-4 },
        { differenceM: 0, modelM2: 1e-4, otherM2: 1e-4 },
      ]),
    ).toMatchObject({ factor: 0, low95: 0 });
  });
});

describe('estimatedAllowance', () => {
  it('is the square of Student over the normal', () => {
    // JCGM 100, table G.2: 2.57 for 5 degrees of freedom, 2.23 for 10; 1.96 for any number.
    expect(Math.sqrt(estimatedAllowance(5)) * 1.96).toBeCloseTo(2.57, 2);
    expect(Math.sqrt(estimatedAllowance(10)) * 1.96).toBeCloseTo(2.23, 2);
    expect(estimatedAllowance(1e7)).toBeCloseTo(1, 5);
  });
});
