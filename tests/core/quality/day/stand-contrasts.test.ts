import { describe, expect, it } from 'vitest';
import { RECORDING_VARIANCE_M2 } from '../../../../src/core/observation/repeats/occupation-estimate.js';
import type { OccupationEstimate } from '../../../../src/core/observation/repeats/occupation-estimate.js';
import { diagonalCovariance } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { standContrasts } from '../../../../src/core/quality/day/stand-contrasts.js';

const TIMES = { correlationHorizontalS: 600, correlationVerticalS: 2200 };
const HOURS = [0, 0.2, 0.5];
const UP = [0.01, -0.02, 0.05];
/** One sigma upwards, metres: noise and pole, slow, growing with the baseline, set-up; another of each occupation. */
const [NOISE, SLOW, GROWING, SETUP] = [
  [0.008, 0.01, 0.006],
  [0.012, 0.01, 0.015],
  [0.03, 0.02, 0.025],
  [0.002, 0.003, 0.004],
] as const;
const up = (sigma: number): OccupationEstimate['mark'] => diagonalCovariance(1e-6, 1e-6, sigma ** 2);
const POLE_M2 = 0.002 ** 2;

const ESTIMATES = HOURS.map((hour, index): OccupationEstimate => ({
  position: { eastM: 0, northM: 0, upM: UP[index]! },
  independent: up(NOISE[index]!),
  correlated: up(SLOW[index]!),
  baseline: up(GROWING[index]!),
  mark: up(0.05),
  setup: up(SETUP[index]!),
  markKey: 'M',
  setupKey: index === 2 ? 'S2' : 'S1',
  baselineM: 10_000 * (index + 1),
  startMs: hour * 3_600_000,
  endMs: hour * 3_600_000,
}));
const OWN = ESTIMATES.map(() => ({ planM2: 0, upM2: POLE_M2, azimuthRad: null }));

/** sᵀ C s, every entry of the matrix of its own: variances by place, covariances by both. */
function form(s: readonly number[], entry: (i: number, j: number) => number): number {
  return s.reduce((sum, a, i) => sum + s.reduce((row, b, j) => row + a * b * entry(i, j), 0), 0);
}
const fading = (i: number, j: number): number => Math.exp((-Math.abs(HOURS[i]! - HOURS[j]!) * 3600) / 2200);

// Helmert contrasts: each value less the weighted mean of those before it (textbook); their variance is sᵀ C s.
describe('standContrasts', () => {
  const contrasts = standContrasts(ESTIMATES, OWN, TIMES).filter(({ axis }) => axis === 'up');
  const last = contrasts.at(-1)!;
  const { shares } = last;

  it('takes each less the mean of those before it, the shares summing to nothing', () => {
    expect(contrasts).toHaveLength(2);
    expect(contrasts[0]!.differenceM).toBeCloseTo(UP[1]! - UP[0]!, 12);
    expect(shares.at(-1)).toBe(1);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(0, 12);
    expect(last.differenceM).toBeCloseTo(
      shares.reduce((sum, share, index) => sum + share * UP[index]!, 0),
      12,
    );
    expect(last).toMatchObject({ baselineM: 30_000, tauS: 2200 });
  });

  it('has the variances of the full matrices, part by part', () => {
    const same = (i: number, j: number): number => (i === j ? 1 : 0);
    const constant = form(
      shares,
      (i, j) => same(i, j) * (NOISE[i]! ** 2 - POLE_M2) + SLOW[i]! * SLOW[j]! * fading(i, j),
    );
    const growing = form(shares, (i, j) => GROWING[i]! * GROWING[j]! * fading(i, j));
    const sameSetup = (i: number, j: number): number => ((i === 2) === (j === 2) ? 1 : 0);
    const other = form(
      shares,
      (i, j) => same(i, j) * POLE_M2 + SETUP[i]! * SETUP[j]! * (i === j ? 1 : sameSetup(i, j)),
    );
    expect(last.constantM2 / constant).toBeCloseTo(1, 9);
    expect(last.growingM2 / growing).toBeCloseTo(1, 9);
    expect(Math.abs(last.otherM2 - other)).toBeLessThanOrEqual(3 * RECORDING_VARIANCE_M2);
  });

  it('leaves out occupations without a mark or a baseline, and parts marks', () => {
    const change = (own: Partial<OccupationEstimate>): readonly OccupationEstimate[] => [
      ESTIMATES[0]!,
      { ...ESTIMATES[1]!, ...own },
    ];
    expect(standContrasts(change({}), OWN, TIMES)).toHaveLength(3);
    expect(standContrasts(change({ markKey: null }), OWN, TIMES)).toEqual([]);
    expect(standContrasts(change({ baselineM: null }), OWN, TIMES)).toEqual([]);
    expect(standContrasts(change({ markKey: 'N' }), OWN, TIMES)).toEqual([]);
  });
});
