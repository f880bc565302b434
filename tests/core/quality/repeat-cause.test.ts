import { describe, expect, it } from 'vitest';
import type { RepeatTest } from '../../../src/core/observation/repeats/repeat-test.js';
import { diagonalCovariance } from '../../../src/core/observation/uncertainty/local-covariance.js';
import { repeatCause } from '../../../src/core/quality/repeat-cause.js';

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
