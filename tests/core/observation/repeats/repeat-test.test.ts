import { describe, expect, it } from 'vitest';
import { combineOccupations } from '../../../../src/core/observation/repeats/combine-occupations.js';
import {
  ZERO_COVARIANCE,
  diagonalCovariance,
  sumCovariance,
} from '../../../../src/core/observation/uncertainty/local-covariance.js';
import type { OccupationEstimate } from '../../../../src/core/observation/repeats/occupation-estimate.js';
import { repeatTest, requiredSeparationS } from '../../../../src/core/observation/repeats/repeat-test.js';
import { seededRandom } from '../../../support/seeded-random.js';

const times = { correlationHorizontalS: 600, correlationVerticalS: 2200 };
const mm2 = (value: number): number => value * value * 1e-6;

function estimate(change: Partial<OccupationEstimate>): OccupationEstimate {
  return {
    position: { eastM: 0, northM: 0, upM: 0 },
    independent: diagonalCovariance(mm2(4), mm2(4), mm2(3)),
    correlated: diagonalCovariance(mm2(6), mm2(6), mm2(12)),
    baseline: diagonalCovariance(mm2(8), mm2(8), mm2(16)),
    mark: sumCovariance(diagonalCovariance(mm2(6), mm2(6), mm2(12)), diagonalCovariance(mm2(8), mm2(8), mm2(16))),
    setup: ZERO_COVARIANCE,
    markKey: 'B1',
    setupKey: 'B1',
    baselineM: 20_000,
    startMs: 0,
    endMs: 60_000,
    ...change,
  };
}

const later = (minutes: number, change: Partial<OccupationEstimate> = {}): OccupationEstimate =>
  estimate({ startMs: minutes * 60_000, endMs: minutes * 60_000 + 60_000, ...change });

describe('repeatTest', () => {
  it('lets the error of a shared base cancel, and counts that of two bases twice', () => {
    const shared = repeatTest(estimate({}), later(6000), times);
    expect(shared.covariance.eeM2).toBeCloseTo(2 * (mm2(4) + mm2(6) + mm2(8)) + 1e-8, 12);
    const two = repeatTest(estimate({}), later(6000, { markKey: 'B2', setupKey: 'B2' }), times);
    expect(two.covariance.eeM2 - shared.covariance.eeM2).toBeCloseTo(2 * mm2(10), 12);
  });

  it('lets the mark cancel between two set-ups on it, and not the set-ups', () => {
    const parts = {
      mark: diagonalCovariance(mm2(8), mm2(8), mm2(15)),
      setup: diagonalCovariance(mm2(3), mm2(3), mm2(2)),
    };
    const two = repeatTest(estimate(parts), later(6000, { ...parts, setupKey: 'B1 again' }), times);
    expect(two.covariance.eeM2).toBeCloseTo(2 * (mm2(4) + mm2(6) + mm2(8) + mm2(3)) + 1e-8, 12);
    expect(two.covariance.uuM2).toBeCloseTo(2 * (mm2(3) + mm2(12) + mm2(16) + mm2(2)) + 1e-8, 12);
    const joined = combineOccupations([estimate(parts), later(6000, { ...parts, setupKey: 'B1 again' })], times);
    expect(joined.covariance.uuM2).toBeCloseTo((mm2(3) + mm2(12) + mm2(16) + mm2(2) + 1e-8) / 2 + mm2(15), 12);
  });

  it('lets slow errors cancel while they are correlated: nothing but noise and pole at once', () => {
    const atOnce = repeatTest(estimate({}), estimate({}), times);
    expect(atOnce.covariance.eeM2).toBeCloseTo(2 * mm2(4) + 1e-8, 12);
    const after = repeatTest(estimate({}), later(10), times);
    const part = 1 - Math.exp(-1);
    expect(after.covariance.eeM2).toBeCloseTo(2 * (mm2(4) + part * (mm2(6) + mm2(8))) + 1e-8, 12);
    expect(after.covariance.uuM2).toBeCloseTo(
      2 * (mm2(3) + (1 - Math.exp(-600 / 2200)) * (mm2(12) + mm2(16))) + 1e-8,
      12,
    );
  });

  it('does not let errors that grow with the baseline cancel between two bases', () => {
    const two = repeatTest(estimate({}), estimate({ markKey: 'B2', setupKey: 'B2' }), times);
    expect(two.covariance.eeM2).toBeCloseTo(2 * (mm2(4) + mm2(8) + mm2(10)) + 1e-8, 12);
  });

  it('takes the larger one-axis statistic where east and north are one and the same error', () => {
    const one = {
      independent: { ...ZERO_COVARIANCE, eeM2: 1e9, enM2: 1e9, nnM2: 1e9, uuM2: 1 },
      correlated: ZERO_COVARIANCE,
      baseline: ZERO_COVARIANCE,
    };
    const found = repeatTest(
      estimate(one),
      later(60, { ...one, position: { eastM: 1e5, northM: 2e5, upM: 0 } }),
      times,
    );
    expect(found.horizontalStatistic).toBe(4e10 / 2e9);
    expect(found.horizontalDisagrees).toBe(true);
  });

  it('asks for the usual separation where a baseline is not stated, and cannot judge it where a time is not', () => {
    const unknown = repeatTest(estimate({ baselineM: null }), later(60), times);
    expect(unknown.requiredSeparationS).toBe(requiredSeparationS(null));
    expect(repeatTest(estimate({}), later(60, { baselineM: null }), times).requiredSeparationS).toBe(
      requiredSeparationS(null),
    );
    const untimed = repeatTest(estimate({}), later(60, { startMs: null }), times);
    expect(untimed).toMatchObject({ separationS: null, tooSoon: null });
    expect(untimed.covariance.eeM2).toBeCloseTo(2 * (mm2(4) + mm2(6) + mm2(8)) + 1e-8, 12);
  });

  it('takes slow errors as new each time where their correlation time is 0', () => {
    const none = repeatTest(estimate({}), estimate({}), { correlationHorizontalS: 0, correlationVerticalS: 0 });
    expect(none.covariance.eeM2).toBeCloseTo(2 * (mm2(4) + mm2(6) + mm2(8)) + 1e-8, 12);
    expect(none.covariance.uuM2).toBeCloseTo(2 * (mm2(3) + mm2(12) + mm2(16)) + 1e-8, 12);
  });

  it('finds a wrong initialisation of 6 cm, and a pole 10 cm off', () => {
    const moved = later(60, { position: { eastM: 0.06, northM: 0, upM: 0 } });
    expect(repeatTest(estimate({}), moved, times)).toMatchObject({
      horizontalDisagrees: true,
      verticalDisagrees: false,
      disagrees: true,
    });
    const lifted = later(60, { position: { eastM: 0, northM: 0, upM: -0.1 } });
    expect(repeatTest(estimate({}), lifted, times)).toMatchObject({
      horizontalDisagrees: false,
      verticalDisagrees: true,
      disagrees: true,
      differenceUpM: -0.1,
    });
  });

  it('holds its level: each test rejects 5 % of true repeats, within four standard errors', () => {
    const random = seededRandom(17);
    const runs = 20_000;
    const minutes = 15;
    const rho = [Math.exp(-900 / 600), Math.exp(-900 / 600), Math.exp(-900 / 2200)] as const;
    let horizontal = 0;
    let vertical = 0;
    for (let run = 0; run < runs; run += 1) {
      const first = [0, 0, 0];
      const second = [0, 0, 0];
      for (const axis of [0, 1, 2] as const) {
        const own = axis === 2 ? 3 : 4;
        const slow = axis === 2 ? [12, 16] : [6, 8];
        const base = random.normal() * (axis === 2 ? 20 : 10);
        first[axis] = base + own * random.normal();
        second[axis] = base + own * random.normal();
        for (const sigma of slow) {
          const x = random.normal();
          first[axis] = (first[axis] ?? 0) + sigma * x;
          second[axis] =
            (second[axis] ?? 0) + sigma * (rho[axis] * x + Math.sqrt(1 - rho[axis] ** 2) * random.normal());
        }
      }
      const at = (v: readonly number[]): OccupationEstimate['position'] => ({
        eastM: (v[0] ?? 0) / 1000,
        northM: (v[1] ?? 0) / 1000,
        upM: (v[2] ?? 0) / 1000,
      });
      const result = repeatTest(estimate({ position: at(first) }), later(minutes, { position: at(second) }), times);
      if (result.horizontalDisagrees) horizontal += 1;
      if (result.verticalDisagrees) vertical += 1;
    }
    const tolerance = 4 * Math.sqrt((0.05 * 0.95) / runs);
    expect(Math.abs(horizontal / runs - 0.05)).toBeLessThan(tolerance);
    expect(Math.abs(vertical / runs - 0.05)).toBeLessThan(tolerance);
  });

  it('reckons the separation from the end of the earlier to the start of the later, whichever comes first', () => {
    expect(repeatTest(later(61), estimate({}), times)).toMatchObject({
      separationS: 3600,
      requiredSeparationS: 3600,
      tooSoon: false,
    });
    expect(repeatTest(estimate({}), later(60), times)).toMatchObject({ separationS: 3540, tooSoon: true });
    expect(repeatTest(estimate({}), estimate({}), times)).toMatchObject({ separationS: 0, tooSoon: true });
  });

  it('says nothing of separation, and takes slow errors as independent, where times are not stated', () => {
    const result = repeatTest(estimate({ startMs: null }), later(60), times);
    expect(result).toMatchObject({ separationS: null, tooSoon: null });
    expect(result.covariance.eeM2).toBeCloseTo(2 * (mm2(4) + mm2(6) + mm2(8)) + 1e-8, 12);
  });
});

describe('requiredSeparationS', () => {
  it('is 30, 60 or 120 minutes with the bounds on the near side, and the longest for an unknown baseline', () => {
    expect([10_000, 10_001, 30_000, 30_001, null].map(requiredSeparationS)).toEqual([1800, 3600, 3600, 7200, 7200]);
  });
});

describe('combineOccupations', () => {
  it('of one occupation is that occupation', () => {
    const one = combineOccupations([estimate({ position: { eastM: 1, northM: 2, upM: 3 } })], times);
    expect(one.position.northM).toBeCloseTo(2, 12);
    expect(one.covariance.eeM2).toBeCloseTo(mm2(4) + mm2(6) + mm2(8) + mm2(10) + 1e-8, 12);
    expect(one.degreesOfFreedom).toBe(0);
    expect(one.chiSquare).toBeCloseTo(0, 12);
  });

  it('of two equally good ones far apart halves all but the shared base', () => {
    const two = combineOccupations(
      [
        estimate({ position: { eastM: 0, northM: 0, upM: 0 } }),
        later(60_000, { position: { eastM: 0.01, northM: 0.02, upM: 0.04 } }),
      ],
      times,
    );
    expect(two.position.eastM).toBeCloseTo(0.005, 12);
    expect(two.position.upM).toBeCloseTo(0.02, 12);
    expect(two.covariance.eeM2).toBeCloseTo((mm2(4) + mm2(6) + mm2(8) + 1e-8) / 2 + mm2(10), 12);
    expect(two.degreesOfFreedom).toBe(3);
    // One difference with covariance C_Δ: the sum of squares is that of the repeat test.
    const repeat = repeatTest(
      estimate({}),
      later(60_000, { position: { eastM: 0.01, northM: 0.02, upM: 0.04 } }),
      times,
    );
    expect(Math.abs(two.chiSquare / (repeat.horizontalStatistic + repeat.verticalStatistic ** 2) - 1)).toBeLessThan(
      1e-3,
    );
  });

  it('of two correlated ones has the variance (1 + ρ)/2, as for a pair of correlated epochs', () => {
    const slowOnly = { independent: ZERO_COVARIANCE, baseline: ZERO_COVARIANCE, mark: ZERO_COVARIANCE } as const;
    const two = combineOccupations([estimate(slowOnly), later(10, slowOnly)], times);
    expect(two.covariance.eeM2).toBeCloseTo((mm2(6) * (1 + Math.exp(-1))) / 2 + 0.5e-8, 11);
  });

  it('leans to the better occupation, by inverse variance where they are independent', () => {
    const own = { correlated: ZERO_COVARIANCE, baseline: ZERO_COVARIANCE, mark: ZERO_COVARIANCE } as const;
    const result = combineOccupations(
      [
        estimate({ ...own, independent: diagonalCovariance(1e-4, 1e-4, 1e-4) }),
        later(60, {
          ...own,
          independent: diagonalCovariance(4e-4, 4e-4, 4e-4),
          position: { eastM: 0.05, northM: 0, upM: 0 },
        }),
      ],
      times,
    );
    expect(result.position.eastM).toBeCloseTo(0.01, 5);
    expect(result.covariance.eeM2).toBeCloseTo(0.8e-4, 7);
  });

  it('gains nothing on slow errors where a time is not stated', () => {
    const result = combineOccupations([estimate({}), later(6000, { endMs: null })], times);
    expect(result.covariance.uuM2).toBeCloseTo(mm2(3) / 2 + (mm2(12) + mm2(16)) + mm2(20), 7);
  });

  it('is not worse for a third occupation, and keeps the correlation of east and north', () => {
    const tilted = { independent: { ...ZERO_COVARIANCE, eeM2: 9e-6, enM2: 5e-6, nnM2: 4e-6, uuM2: 1e-6 } } as const;
    const two = combineOccupations([estimate(tilted), later(90, tilted)], times);
    const three = combineOccupations(
      [estimate(tilted), later(90, tilted), later(200, { ...tilted, markKey: 'B2', setupKey: 'B2' })],
      times,
    );
    expect(three.covariance.eeM2).toBeLessThan(two.covariance.eeM2);
    expect(two.covariance.enM2).toBeGreaterThan(1e-6);
  });

  it('refuses no occupations', () => {
    expect(() => combineOccupations([], times)).toThrow('no occupations');
  });

  it('refuses a covariance that is none', () => {
    expect(() => combineOccupations([estimate({ independent: { ...ZERO_COVARIANCE, eeM2: -1 } })], times)).toThrow(
      'not positive definite',
    );
  });
});

describe('requiredSeparationS', () => {
  // docs/methods/averaging.md, "Repeat occupations": 30 minutes up to 10 km, 60 up to 30 km, 120 beyond.
  it.each([
    [0, 30],
    [10_000, 30],
    [10_001, 60],
    [30_000, 60],
    [30_001, 120],
    [null, 120],
  ])('at %s m is %d minutes', (baselineM, minutes) => {
    expect(requiredSeparationS(baselineM)).toBe(minutes * 60);
  });
});
