import { describe, expect, it } from 'vitest';
import { HORIZONTAL_95, VERTICAL_95 } from '../../../src/core/observation/uncertainty/confidence-factors.js';
import { diagonalCovariance } from '../../../src/core/observation/uncertainty/local-covariance.js';
import type { LocalCovariance } from '../../../src/records/points/point.js';
import { greatestBend } from '../../../src/core/observation/uncertainty/vector-bend.js';
import { baseBend, bendReason } from '../../../src/tasks/bases/base-bend.js';
import type { PreparedBase } from '../../../src/tasks/bases/prepare-bases.js';
import type { ReductionSetup } from '../../../src/tasks/reduce/reduction-setup.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';

const NO_TOLERANCE = { horizontalM: null, verticalM: null };
const WIDE = diagonalCovariance(1, 1, 1);

/** The bend of these sigmas among a total of these variances, without a geoid. */
const reason = (
  bend: LocalCovariance,
  total: LocalCovariance,
  tolerance: Parameters<typeof bendReason>[1] = NO_TOLERANCE,
  geoidVarianceM2: number | null = null,
): ReturnType<typeof bendReason> => bendReason({ bend, total, geoidVarianceM2 }, tolerance);

// docs/methods/base-correction.md, "What remains": the bend matters from a third of the variance on, where the stated figure is
// a fifth larger for it, √(1/(1 − 1/3)) = 1.22; a tenth larger, √(1/(1 − 1/6)) = 1.10, is let pass, and so is 15 %. And from a
// third of a tolerance on: an error that takes up no more than a third of what is allowed is left out of account (common
// practice, no published source).
describe('the bend that a wrong base left is a doubt about a point', () => {
  it('from a third of the variance in plan, or in height, on', () => {
    for (const [share, code] of [
      [1 / 6, null],
      [0.245, null],
      [0.332, null],
      [0.335, 'point-base-residual'],
      [0.4, 'point-base-residual'],
    ] as const) {
      expect(reason(diagonalCovariance(share, share, 0), WIDE), `plan ${share}`).toBe(code);
      expect(reason(diagonalCovariance(0, 0, share), WIDE), `height ${share}`).toBe(code);
    }
  });

  it('from a third of a tolerance on, by its own 95 % figure in each', () => {
    for (const [share, code] of [
      [0.25, null],
      [0.332, null],
      [0.335, 'point-base-residual'],
      [0.45, 'point-base-residual'],
    ] as const) {
      const plan = (share * 0.05) / HORIZONTAL_95;
      const up = (share * 0.05) / VERTICAL_95;
      const inPlan = { horizontalM: 0.05, verticalM: null };
      const inHeight = { horizontalM: null, verticalM: 0.05 };
      expect(reason(diagonalCovariance(plan ** 2, 0, 0), WIDE, inPlan), `east ${share}`).toBe(code);
      expect(reason(diagonalCovariance(0, plan ** 2, 0), WIDE, inPlan), `north ${share}`).toBe(code);
      expect(reason(diagonalCovariance(0, 0, up ** 2), WIDE, inHeight), `height ${share}`).toBe(code);
      // A tolerance in plan says nothing of height, nor the other way about.
      expect(reason(diagonalCovariance(0, 0, up ** 2), WIDE, inPlan)).toBeNull();
      expect(reason(diagonalCovariance(plan ** 2, plan ** 2, 0), WIDE, inHeight)).toBeNull();
    }
  });

  it('refuses the point where it is both', () => {
    const bend = diagonalCovariance(0.02 ** 2, 0.02 ** 2, 0);
    const total = diagonalCovariance(0.03 ** 2, 0.03 ** 2, 0.03 ** 2);
    expect(reason(bend, total, { horizontalM: 0.1, verticalM: null })).toBe('point-base-residual-large');
    expect(reason(bend, total, { horizontalM: 0.2, verticalM: null })).toBe('point-base-residual');
  });

  it('counts what the geoid adds to the variance of height', () => {
    const bend = diagonalCovariance(0, 0, 0.4);
    expect(reason(bend, WIDE, NO_TOLERANCE, 0.1)).toBe('point-base-residual');
    expect(reason(bend, WIDE, NO_TOLERANCE, 0.3)).toBeNull();
  });

  it('says nothing where there is none', () => {
    const none = diagonalCovariance(0, 0, 0);
    expect(reason(none, none, { horizontalM: 0, verticalM: 0 })).toBeNull();
  });
});

describe('what a base that was wrong did to what was measured from it', () => {
  const prepared = (own: object = {}): PreparedBase =>
    ({
      correction: { local: { eastM: 300, northM: 0, upM: 0 } },
      settings: { sigmaHorizontalM: null, sigmaVerticalM: null },
      ...own,
    }) as unknown as PreparedBase;
  const setup = (horizontalM: number | null, verticalM: number | null): ReductionSetup =>
    ({ precision: NORMAL_PRECISION, tolerance: { horizontalM, verticalM } }) as unknown as ReductionSetup;
  const fromM = (base: PreparedBase, [horizontalM, verticalM]: readonly (number | null)[] = [null, null]) =>
    baseBend(base, 1000, setup(horizontalM ?? null, verticalM ?? null))?.mattersFromM ?? null;

  it('is nothing where it was right, or nothing was measured from it', () => {
    expect(baseBend(prepared({ correction: null }), 1000, setup(null, null))).toBeNull();
    expect(baseBend(prepared(), null, setup(null, null))).toBeNull();
  });

  it('grows with the length, and is greatest at the farthest point', () => {
    const at = (farthestM: number) => baseBend(prepared(), farthestM, setup(null, null))?.greatest;
    expect(at(1000)).toEqual(greatestBend({ eastM: 300, northM: 0, upM: 0 }, 1000));
    expect(at(2000)?.upM).toBeCloseTo(2 * (at(1000)?.upM ?? NaN), 9);
  });

  it('matters from a length on that the sigmas of the base make longer, in plan and in height', () => {
    const plain = fromM(prepared()) ?? NaN;
    expect(plain).toBeGreaterThan(0);
    // A bend in height is what a shift along the ground makes: only the vertical sigma hides it.
    const vertical = fromM(prepared({ settings: { sigmaHorizontalM: null, sigmaVerticalM: 0.05 } })) ?? NaN;
    expect(vertical).toBeGreaterThan(plain);
    // A shift upwards lengthens or shortens the plan.
    const up = { correction: { local: { eastM: 0, northM: 0, upM: 300 } } };
    const plan = fromM(prepared(up)) ?? NaN;
    const planWith = fromM(prepared({ ...up, settings: { sigmaHorizontalM: 0.05, sigmaVerticalM: null } })) ?? NaN;
    expect(planWith).toBeGreaterThan(plan);
  });

  // A third of the variance is the bend's where its square is half of the rest: k·b = √(rest / 2), k the bend of a metre.
  it('matters where its square is half of what else there is: two axes of an epoch and of the base in plan, one in height', () => {
    const [epochM, upM] = [0.012, 0.02];
    const precision = { at: () => ({ horizontal: { totalM: epochM }, vertical: { totalM: upM } }) };
    const own = { precision, tolerance: { horizontalM: null, verticalM: null } } as unknown as ReductionSetup;
    const from = (local: object, sigmaHorizontalM: number | null, sigmaVerticalM: number | null): number | null =>
      baseBend(prepared({ correction: { local }, settings: { sigmaHorizontalM, sigmaVerticalM } }), 1000, own)
        ?.mattersFromM ?? null;
    const along = { eastM: 300, northM: 0, upM: 0 };
    const upwards = { eastM: 0, northM: 0, upM: 300 };
    const [ofGround, ofHeight] = [greatestBend(along, 1), greatestBend(upwards, 1)];
    for (const sigmaM of [null, 0.01, 0.03]) {
      const up = Math.sqrt((upM ** 2 + (sigmaM ?? 0) ** 2) / 2) / ofGround.upM;
      expect(Math.abs((from(along, null, sigmaM) ?? NaN) - up)).toBeLessThan(0.6);
      const plan =
        Math.sqrt((2 * epochM ** 2 + 2 * (sigmaM ?? 0) ** 2) / 2) / Math.hypot(ofHeight.alongM, ofHeight.acrossM);
      expect(Math.abs((from(upwards, sigmaM, null) ?? NaN) - plan)).toBeLessThan(0.6);
    }
  });

  it('matters from a third of a tolerance on, whichever comes first', () => {
    const a = greatestBend({ eastM: 300, northM: 0, upM: 0 }, 1);
    const height = 0.001 / 3 / VERTICAL_95 / a.upM;
    expect(fromM(prepared(), [null, 0.001])).toBeCloseTo(height, 6);
    const plan = 0.001 / 3 / HORIZONTAL_95 / Math.max(a.alongM, a.acrossM);
    expect(fromM(prepared(), [0.001, null])).toBeCloseTo(Math.min(plan, fromM(prepared()) ?? NaN), 6);
    expect(fromM(prepared({ correction: { local: { eastM: 0.001, northM: 0, upM: 0 } } }))).toBeNull();
  });
});
