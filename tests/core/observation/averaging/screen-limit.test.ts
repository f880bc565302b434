import { describe, expect, it } from 'vitest';
import { madFactor, screenedFromM, screenLimitM } from '../../../../src/core/observation/averaging/screen-limit.js';
import { normalQuantile } from '../../../../src/core/numeric/distributions/normal-quantile.js';

const SCATTER = { withinM: 0.004, mostM: 0.009 };

describe('madFactor', () => {
  // CROUX-1992, b_n for n of 2 to 9, from memory; beyond, n/(n − 0.8).
  it('makes the median of absolute deviations of few values right on average', () => {
    expect([2, 3, 4, 5, 6, 7, 8, 9].map(madFactor)).toEqual([1.196, 1.495, 1.363, 1.206, 1.2, 1.14, 1.129, 1.107]);
    expect(madFactor(10)).toBeCloseTo(10 / 9.2, 12);
    expect(madFactor(100)).toBeCloseTo(100 / 99.2, 12);
  });
});

describe('screenLimitM', () => {
  it('of two epochs goes by what they may scatter at most, whatever they do', () => {
    expect(screenLimitM(2, 0, SCATTER)).toBe(screenLimitM(2, 0.1, SCATTER));
    expect(screenLimitM(2, 0.1, { ...SCATTER, mostM: 0.018 })).toBeCloseTo(2 * screenLimitM(2, 0.1, SCATTER), 12);
  });

  it('never lies above that of the most scatter, and reaches it where much is seen', () => {
    for (const count of [3, 10, 100]) {
      const most = screenLimitM(count, 1, SCATTER);
      expect(screenLimitM(count, 10, SCATTER)).toBe(most);
      expect(screenLimitM(count, 0, SCATTER)).toBeLessThan(most);
      expect(screenLimitM(count, 0, SCATTER) / most).toBeCloseTo(SCATTER.withinM / SCATTER.mostM, 9);
      // Of three epochs the scatter seen says next to nothing: the least of it reaches the most.
      if (count > 3) expect(screenLimitM(count, 0.0002, SCATTER)).toBeGreaterThan(screenLimitM(count, 0.0001, SCATTER));
    }
  });

  it('of quiet epochs is the expected scatter, the uncertain median and a level shared by all of them', () => {
    const level = (count: number): number =>
      screenLimitM(count, 0, SCATTER) / (SCATTER.withinM * Math.sqrt(1 + Math.PI / (2 * count)));
    // The chance beyond, on two sides, of three axes and all epochs is one.
    const each = (count: number): number => {
      const z = level(count);
      let [low, high] = [0.5, 1];
      for (let step = 0; step < 60; step += 1) {
        const p = (low + high) / 2;
        if (normalQuantile(p) < z) low = p;
        else high = p;
      }
      return (1 - low) * 2 * 3 * count;
    };
    expect(each(30) / each(3)).toBeCloseTo(1, 6);
    expect(each(200) / each(3)).toBeCloseTo(1, 6);
  });

  it('lies nowhere below the distance from which it is looked at', () => {
    for (let count = 2; count < 400; count += 1)
      for (const madM of [0, 0.001, 0.01])
        expect(screenedFromM(count, SCATTER)).toBeLessThanOrEqual(screenLimitM(count, madM, SCATTER) * (1 + 1e-12));
  });
});
