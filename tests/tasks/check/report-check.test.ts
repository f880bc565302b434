import { describe, expect, it } from 'vitest';
import type { CheckRow } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import type { LimitVerdict } from '../../../src/core/quality/standards/limit-verdict.js';
import { checkOf, worseOf } from '../../../src/tasks/check/report-check.js';

const limit = (axis: '2d' | 'up', valueM: number, limitM: number): LimitVerdict => ({
  limitName: 'invented',
  axis,
  probability: null,
  valueM,
  limitM,
  marginM: limitM - valueM,
  governedBy: null,
  verdict: valueM > limitM ? 'exceeds' : 'within',
});

function rowOf(part: Partial<CheckRow>): CheckRow {
  return {
    check: 'control',
    pointId: 'A',
    occupation: '1',
    against: 'control',
    firstM: 0.007,
    secondM: 0,
    upM: 0.2,
    heightKind: null,
    alongM: null,
    acrossM: null,
    distanceM: null,
    chainageM: null,
    separationS: null,
    horizontalStatistic: null,
    verticalStatistic: null,
    limits: [],
    verdict: 'exceeds',
    reasons: [],
    measured: null,
    known: null,
    covariance: null,
    vector: null,
    ...part,
  };
}

describe('the axis in which a comparison exceeds', () => {
  it('is that beyond its limit, though the other is beyond its uncertainty', () => {
    // 7 mm in plan is within 50 mm, whatever a sigma of 1 mm says of it: a limit decides for its axis.
    const row = rowOf({
      limits: [limit('2d', 0.007, 0.05), limit('up', 0.2, 0.1)],
      horizontalStatistic: 49,
      verticalStatistic: 20,
      reasons: ['check-vertical-limit', 'check-horizontal-noise', 'check-vertical-noise'],
    });
    expect(checkOf(row).exceeds).toEqual({ plan: false, height: true });
  });

  it('is that beyond the 95 % of its uncertainty where no limit is set for it', () => {
    // Chi-square 5.991 with two degrees of freedom, 1.960 for one.
    const noisy = { horizontalStatistic: 5.9, verticalStatistic: 2, reasons: ['check-repeat-noise'] as const };
    expect(checkOf(rowOf(noisy)).exceeds).toEqual({ plan: false, height: true });
    expect(checkOf(rowOf({ ...noisy, horizontalStatistic: 6, verticalStatistic: 1.9 })).exceeds).toEqual({
      plan: true,
      height: false,
    });
  });

  it('are both where neither is beyond, as of a point that was rejected, and none of what does not exceed', () => {
    expect(checkOf(rowOf({ reasons: ['check-point-rejected'] })).exceeds).toEqual({ plan: true, height: true });
    expect(checkOf(rowOf({ verdict: 'review', verticalStatistic: 9 })).exceeds).toEqual({ plan: false, height: false });
  });
});

describe('the worst of comparisons', () => {
  it('is one that is beyond its uncertainty before one within its limit, in the axis that is beyond', () => {
    const within = rowOf({ pointId: 'within', verdict: 'within', upM: 0.07, limits: [limit('up', 0.07, 0.1)] });
    const beyond = rowOf({ pointId: 'beyond', upM: 0.05, horizontalStatistic: 1, verticalStatistic: 9 });
    const worst = [within, beyond].reduce(worseOf, { plan: null, height: null });
    expect(worst.height?.pointId).toBe('beyond');
    expect([beyond, within].reduce(worseOf, { plan: null, height: null }).height?.pointId).toBe('beyond');
  });

  it('is the largest share of a limit, and without limits the largest difference, axis by axis', () => {
    const near = rowOf({ pointId: 'near', firstM: 0.04, upM: 0.01, limits: [limit('2d', 0.04, 0.05)] });
    const far = rowOf({ pointId: 'far', firstM: 0.06, upM: 0.02, limits: [limit('2d', 0.06, 0.2)] });
    const none = rowOf({ pointId: 'none', firstM: null, upM: null });
    const worst = [near, far, none].reduce(worseOf, { plan: null, height: null });
    expect([worst.plan?.pointId, worst.height?.pointId]).toEqual(['near', 'far']);
  });
});
