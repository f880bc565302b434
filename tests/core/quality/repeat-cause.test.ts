import { describe, expect, it } from 'vitest';
import type { OccupationEstimate } from '../../../src/core/observation/repeats/occupation-estimate.js';
import type { RepeatTest } from '../../../src/core/observation/repeats/repeat-test.js';
import { diagonalCovariance } from '../../../src/core/observation/uncertainty/local-covariance.js';
import { isPairGain, repeatCause } from '../../../src/core/quality/repeat-cause.js';

function test(horizontalDisagrees: boolean, sigmaUpM: number): RepeatTest {
  return {
    differenceEastM: 0,
    differenceNorthM: 0,
    differenceUpM: 0,
    covariance: diagonalCovariance(1e-4, 1e-4, sigmaUpM * sigmaUpM),
    horizontalStatistic: 0,
    verticalStatistic: 0,
    horizontalDisagrees,
    verticalDisagrees: true,
    disagrees: true,
    separationS: null,
    requiredSeparationS: 1800,
    tooSoon: null,
  };
}

const moved = (eastM: number, upM: number): { eastM: number; northM: number; upM: number } => ({
  eastM,
  northM: 0,
  upM,
});

describe('why two occupations disagree', () => {
  it('in height alone it is a pole length, with the step between the lengths that were logged', () => {
    expect(repeatCause(moved(0.001, -0.2), test(false, 0.01), 2, 1.8)).toMatchObject({
      cause: 'pole-length',
      polesDiffer: true,
      poleStepM: expect.closeTo(-0.2, 12) as number,
    });
    expect(repeatCause(moved(0.001, -0.2), test(false, 0.01), 2, 2).polesDiffer).toBe(false);
    expect(repeatCause(moved(0.001, -0.2), test(false, 0.01), null, 2).polesDiffer).toBe(false);
    expect(repeatCause(moved(0.001, -0.2), test(false, 0.01), 2, null).polesDiffer).toBe(false);
  });

  it('beyond two metres it is another mark', () => {
    expect(repeatCause(moved(2.1, 0), test(true, 0.01), 2, 2).cause).toBe('misidentified');
  });

  it('in plan with the drop of a lean it is a lean, of the pole that is stated or of 2 m', () => {
    const drop = (poleM: number): number => poleM - Math.sqrt(poleM * poleM - 0.16);
    expect(repeatCause(moved(0.4, -drop(2)), test(true, 0.01), 2, 2).cause).toBe('tilt');
    expect(repeatCause(moved(0.4, drop(2)), test(true, 0.01), null, null).cause).toBe('tilt');
    expect(repeatCause(moved(0.4, -drop(0.5)), test(true, 0.01), 0.5, 0.5).cause).toBe('tilt');
  });

  it('in plan otherwise it is a wrong integer: no drop, too little of one to tell, or a pole too short for the lean', () => {
    expect(repeatCause(moved(0.4, 0), test(true, 0.01), 2, 2).cause).toBe('wrong-integer');
    expect(repeatCause(moved(0.4, -0.04), test(true, 0.03), 2, 2).cause).toBe('wrong-integer');
    expect(repeatCause(moved(0.05, -0.001), test(true, 0.0001), 2, 2).cause).toBe('wrong-integer');
    expect(repeatCause(moved(0.6, -0.1), test(true, 0.01), 0.5, 0.5).cause).toBe('wrong-integer');
  });
});

describe('whether a second occupation makes a point better', () => {
  /** Variances of plan (both axes together) and height that are the occupation's own, mm²; the base's part does not count. */
  const stand = (planMm2: number, upMm2: number): OccupationEstimate => ({
    position: { eastM: 0, northM: 0, upM: 0 },
    independent: diagonalCovariance(planMm2 / 4e6, planMm2 / 4e6, upMm2 / 3e6),
    correlated: diagonalCovariance(planMm2 / 8e6, planMm2 / 8e6, upMm2 / 3e6),
    baseline: diagonalCovariance(planMm2 / 8e6, planMm2 / 8e6, upMm2 / 3e6),
    mark: diagonalCovariance(1, 1, 1),
    setup: diagonalCovariance(1, 1, 1),
    markKey: null,
    setupKey: null,
    baselineM: null,
    startMs: null,
    endMs: null,
  });
  const difference = (planMm2: number, upMm2: number): ReturnType<typeof diagonalCovariance> =>
    diagonalCovariance(planMm2 / 2e6, planMm2 / 2e6, upMm2 / 1e6);

  // The best linear unbiased mean of two with covariance c has the variance (v₁v₂ − c²)/(v₁ + v₂ − 2c), textbook: of two of 100
  // with c the mean has (100 + c)/2, whose root is less than 0.95 of 10 below c = 80.5. Five per cent is our own limit.
  it.each([
    ['two that share nothing', 100, 100, 200, true],
    ['two that share 80 of 100', 100, 100, 40, true],
    ['two that share 81 of 100', 100, 100, 38, false],
    ['two that share all but 1', 100, 100, 2, false],
    ['two whose difference says more than both: as if they shared nothing', 100, 100, 300, true],
    // 100 · v/(100 + v) is less than 0.9025 · 100 below v = 925.6.
    ['one three times as wide', 100, 900, 1000, true],
    ['one that is hardly any help', 100, 950, 1050, false],
    ['the same, the other way round', 950, 100, 1050, false],
  ])('is so of %s', (_, first, second, between, expected) => {
    // What is not looked at shares all but 1 of 100, and gains nothing.
    expect(isPairGain(stand(first, 100), stand(second, 100), difference(between, 2))).toBe(expected);
    expect(isPairGain(stand(100, first), stand(100, second), difference(2, between))).toBe(expected);
  });
});

describe('a lean of the pole', () => {
  // A pole of 2 m that leans by 0.4 m comes down by 2 − √(4 − 0.16) = 0.0404 m.
  const DROP = 2 - Math.sqrt(4 - 0.16);
  const cause = (eastM: number, upM: number, sigmaM: number, ...poles: readonly (number | null)[]): string =>
    repeatCause(moved(eastM, upM), test(true, sigmaM), poles[0] ?? null, poles[1] ?? null).cause;

  it('is one where plan and drop belong together to two sigma, whichever of both leaned', () => {
    expect(cause(0.4, -DROP, 0.01, 2)).toBe('tilt');
    expect(cause(-0.4, DROP, 0.01, 2)).toBe('tilt');
    expect(cause(0.4, -DROP - 0.0195, 0.01, 2)).toBe('tilt');
    expect(cause(0.4, -DROP - 0.0205, 0.01, 2)).toBe('wrong-integer');
    expect(cause(0.4, -DROP + 0.0205, 0.01, 2)).toBe('wrong-integer');
  });

  it('is none where the drop is within two sigma of nothing, or the plan is ten centimetres or less', () => {
    expect(cause(0.4, -DROP, 0.0201, 2)).toBe('tilt');
    expect(cause(0.4, -DROP, 0.0203, 2)).toBe('wrong-integer');
    // A pole of 0.11 m that leans by 0.1 m: 0.11 − √(0.0121 − 0.01) = 0.0642 m.
    expect(cause(0.1, -0.0642, 0.001, 0.11)).toBe('wrong-integer');
    expect(cause(0.1001, -0.0644, 0.001, 0.11)).toBe('tilt');
  });

  it('takes a pole that nobody states for the usual one of two metres, and none that is shorter than the plan', () => {
    expect(cause(0.4, -DROP, 0.01)).toBe('tilt');
    expect(cause(0.4, -DROP, 0.01, 5)).toBe('wrong-integer');
    expect(cause(1.9, -1.9, 0.01, 1.5)).toBe('wrong-integer');
    expect(cause(1.5, -1.5, 0.01, 1.5)).toBe('wrong-integer');
  });

  it('is none beyond two metres, which is another mark', () => {
    expect(cause(2.01, 0, 0.01)).toBe('misidentified');
    expect(cause(2, 0, 0.01)).toBe('wrong-integer');
  });
});
