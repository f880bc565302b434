import { describe, expect, it } from 'vitest';
import type { OccupationEstimate } from '../../../src/core/observation/occupation-estimate.js';
import { noisyDay } from '../../../src/core/quality/noisy-day.js';
import type { ContrastedPoint, DayClass } from '../../../src/core/quality/noisy-day.js';
import { standContrasts } from '../../../src/core/quality/stand-contrasts.js';
import type { LocalVector } from '../../../src/records/point.js';

/** Uniform draws of the test's own (Wichmann and Hill's three congruences) and normal deviates by Box and Muller. */
function normals(seed: number): () => number {
  let [a, b, c] = [seed % 30_269, (seed * 7) % 30_307, (seed * 13) % 30_323];
  const uniform = (): number => {
    a = (171 * a) % 30_269;
    b = (172 * b) % 30_307;
    c = (170 * c) % 30_323;
    return (a / 30_269 + b / 30_307 + c / 30_323) % 1;
  };
  return () => Math.sqrt(-2 * Math.log(uniform() || 1e-12)) * Math.cos(2 * Math.PI * uniform());
}

const TIMES = { correlationHorizontalS: 600, correlationVerticalS: 2200 };
/** One sigma, metres: own noise, slow error, what grows with 30 km, pole, the mark; plan and height. */
const SIGMA = { noise: [0.004, 0.008], slow: [0.006, 0.012], growing: [0.0125, 0.032], pole: [0.004, 0.002], mark: [0.05, 0.08] } as const;
const square = (sigma: readonly [number, number]): OccupationEstimate['mark'] => ({ eeM2: sigma[0] ** 2, enM2: 0, euM2: 0, nnM2: sigma[0] ** 2, nuM2: 0, uuM2: sigma[1] ** 2 });
const sum = (one: OccupationEstimate['mark'], other: OccupationEstimate['mark']): OccupationEstimate['mark'] => ({ ...one, eeM2: one.eeM2 + other.eeM2, nnM2: one.nnM2 + other.nnM2, uuM2: one.uuM2 + other.uuM2 });
const POLE = { planM2: SIGMA.pole[0] ** 2, upM2: SIGMA.pole[1] ** 2 };

function stand(position: LocalVector, hour: number, change: Partial<OccupationEstimate> = {}): OccupationEstimate {
  const startMs = 3_600_000 * hour;
  return { position, independent: sum(square(SIGMA.noise), square(SIGMA.pole)), correlated: square(SIGMA.slow), baseline: square(SIGMA.growing), mark: square(SIGMA.mark), setup: square([0, 0]), markKey: 'M', setupKey: 'S', baselineM: 30_000, startMs, endMs: startMs + 10_000, ...change };
}

const at = (eastM: number, northM = 0, upM = 0): LocalVector => ({ eastM, northM, upM });

describe('standContrasts', () => {
  it('is the difference of two stands, from which point and mark fall out', () => {
    const found = standContrasts([stand(at(5, 7, 9), 0), stand(at(5.03, 7, 8.9), 3)], [POLE, POLE], TIMES);
    expect(found.map(({ differenceM }) => Number(differenceM.toFixed(6)))).toEqual([0.03, 0, -0.1]);
    // Three hours are eighteen correlation times in plan: twice the sum of squares of noise, slow and growing, and no mark.
    expect(found[0]?.modelM2).toBeCloseTo(2 * (0.004 ** 2 + 0.006 ** 2 + 0.0125 ** 2), 9);
    expect(found[0]?.otherM2).toBeCloseTo(2 * 0.004 ** 2 + 2e-8, 12);
    // Height: what is left of the slow errors after 10,800 s at 2,200 s.
    expect(found[2]?.modelM2).toBeCloseTo(2 * 0.008 ** 2 + 2 * (1 - Math.exp(-10_800 / 2200)) * (0.012 ** 2 + 0.032 ** 2), 9);
  });

  it('takes the error of a set-up off within one, and leaves it between two of one mark', () => {
    const setup = square([0.002, 0.003]);
    const otherOf = (second: string): number => standContrasts([stand(at(0), 0, { setup }), stand(at(0), 3, { setup, setupKey: second })], [POLE, POLE], TIMES)[2]?.otherM2 ?? NaN;
    expect(otherOf('S')).toBeCloseTo(2 * 0.002 ** 2 + 2e-8, 12);
    expect(otherOf('T')).toBeCloseTo(2 * 0.002 ** 2 + 2 * 0.003 ** 2 + 2e-8, 12);
  });

  it('says nothing of stands from two marks, without a baseline, or alone', () => {
    expect(standContrasts([stand(at(0), 0), stand(at(1), 3, { markKey: 'N' })], [POLE, POLE], TIMES)).toEqual([]);
    expect(standContrasts([stand(at(0), 0), stand(at(1), 3, { baselineM: null })], [POLE, POLE], TIMES)).toEqual([]);
    expect(standContrasts([stand(at(0), 0)], [POLE], TIMES)).toEqual([]);
  });

  it('gives one contrast an axis for each stand but the first of ten, that add up to the squares about their mean', () => {
    const places = [0.01, -0.02, 0.005, 0.03];
    const found = standContrasts(places.map((east, hour) => stand(at(east), 100 * hour)), places.map(() => POLE), TIMES).slice(0, 3);
    const mean = places.reduce((total, east) => total + east, 0) / 4;
    const variance = 0.004 ** 2 + 0.006 ** 2 + 0.0125 ** 2 + 0.004 ** 2 + 1e-8;
    const expected = places.reduce((total, east) => total + (east - mean) ** 2, 0) / variance;
    expect(found.reduce((total, { differenceM, modelM2, otherM2 }) => total + differenceM ** 2 / (modelM2 + otherM2), 0)).toBeCloseTo(expected, 6);
    expect(standContrasts(Array.from({ length: 23 }, (_, hour) => stand(at(0), hour)), Array.from({ length: 23 }, () => POLE), TIMES)).toHaveLength(3 * (9 + 9 + 2));
  });
});

interface Day {
  readonly points: readonly ContrastedPoint[];
  /** Errors of single stands against their points, the mark left aside, metres. */
  readonly errors: readonly LocalVector[];
}

/** Points with two stands three hours apart at 30 km; what grows with the baseline times `times`; the first point wrong by `blunderM`. */
function dayOf(random: () => number, points: number, times: number, blunderM = 0): Day {
  const errors: LocalVector[] = [];
  const draw = (axis: 0 | 1): number => SIGMA.noise[axis] * random() + SIGMA.slow[axis] * random() + times * SIGMA.growing[axis] * random() + SIGMA.pole[axis] * random();
  const mark = [SIGMA.mark[0] * random(), SIGMA.mark[0] * random(), SIGMA.mark[1] * random()] as const;
  const days = Array.from({ length: points }, (_, index): ContrastedPoint => {
    const own = [0, 3].map((hour) => {
      const error = at(draw(0), draw(0), draw(1));
      errors.push(error);
      const wrong = index === 0 && hour === 3 ? blunderM : 0;
      return stand(at(mark[0] + error.eastM + wrong, mark[1] + error.northM, mark[2] + error.upM), hour);
    });
    return { pointId: `P${String(index)}`, contrasts: standContrasts(own, [POLE, POLE], TIMES) };
  });
  return { points: days, errors };
}

/** Shares of errors within the 95 % circle and height figure of the model, its parts times the factor. */
function coverage(days: readonly Day[], factorOf: (day: Day) => number): readonly [number, number] {
  let [plan, up, count] = [0, 0, 0];
  for (const day of days) {
    const factor = factorOf(day);
    const variance = (axis: 0 | 1): number => factor * (SIGMA.noise[axis] ** 2 + SIGMA.slow[axis] ** 2 + SIGMA.growing[axis] ** 2) + SIGMA.pole[axis] ** 2;
    for (const { eastM, northM, upM } of day.errors) {
      count += 1;
      // 5.991 and 3.841: the 95 % points of chi-square with 2 and 1 degrees of freedom (NIST handbook, table 1.3.6.7.4).
      if ((eastM ** 2 + northM ** 2) / variance(0) <= 5.991) plan += 1;
      if (upM ** 2 / variance(1) <= 3.841) up += 1;
    }
  }
  return [plan / count, up / count];
}

const appliedFactor = ({ points }: Day): number => noisyDay(points).find(({ isNoisier }) => isNoisier)?.factor ?? 1;
const isNoisy = (classes: readonly DayClass[]): boolean => classes.some(({ isNoisier }) => isNoisier);

describe('noisyDay', () => {
  it('covers 90 % and more where what grows is three times the model, and 95 % on clean days; the model alone covers far less', () => {
    const random = normals(20_261_129);
    const noisy = Array.from({ length: 150 }, () => dayOf(random, 10, 3));
    const [planBefore, upBefore] = coverage(noisy, () => 1);
    expect(planBefore).toBeLessThan(0.7);
    expect(upBefore).toBeLessThan(0.7);
    for (const share of coverage(noisy, appliedFactor)) expect(share).toBeGreaterThan(0.9);
    const clean = Array.from({ length: 150 }, () => dayOf(random, 10, 1));
    for (const share of coverage(clean, appliedFactor)) expect(share).toBeGreaterThan(0.93);
  }, 60_000);

  it('calls about 1 % of clean days noisy at most, whether or not one repeat is wrong, and nearly all noisy ones', () => {
    const random = normals(7_011);
    const share = (points: number, times: number, blunderM: number, days: number): number => Array.from({ length: days }, () => isNoisy(noisyDay(dayOf(random, points, times, blunderM).points))).filter(Boolean).length / days;
    // Three standard errors of 0.01 in 600 days are 0.0122.
    expect(share(8, 1, 0, 600)).toBeLessThan(0.0222);
    expect(share(8, 1, 0.19, 600)).toBeLessThan(0.0222);
    expect(share(3, 1, 0.19, 600)).toBeLessThan(0.0222);
    expect(share(2, 1, 0.19, 600)).toBeLessThan(0.0222);
    expect(share(1, 1, 0.19, 20)).toBe(0);
    expect(share(8, 3, 0, 200)).toBeGreaterThan(0.97);
  }, 60_000);

  it('leaves a wrong repeat out of the factor, and says which', () => {
    const [found] = noisyDay(dayOf(normals(5), 8, 1, 0.19).points);
    expect(found).toMatchObject({ fromM: 20_000, toM: Infinity, points: 7, degreesOfFreedom: 21, leftOut: ['P0'], isNoisier: false });
    const [noisy] = noisyDay(dayOf(normals(5), 12, 3, 1.2).points);
    expect(noisy).toMatchObject({ leftOut: ['P0'], isNoisier: true });
    expect(noisy?.factor).toBeGreaterThan(4);
    expect(noisy?.factor).toBeLessThan(13);
  });

  it('takes two wrong repeats of six for blunders, which do not hide each other', () => {
    const [first] = dayOf(normals(31), 1, 1, 0.19).points;
    const [found] = noisyDay([...dayOf(normals(8), 5, 1, 0.21).points, { pointId: 'Q', contrasts: first?.contrasts ?? [] }]);
    expect(found).toMatchObject({ points: 4, isNoisier: false });
    expect([...(found?.leftOut ?? [])].sort()).toEqual(['P0', 'Q']);
  });

  it('keeps classes of baseline apart', () => {
    const random = normals(99);
    const near = dayOf(random, 8, 1).points.map(({ pointId, contrasts }) => ({ pointId: `N${pointId}`, contrasts: contrasts.map((contrast) => ({ ...contrast, baselineM: 5000 })) }));
    const found = noisyDay([...near, ...dayOf(random, 8, 3).points]);
    expect(found.map(({ fromM, isNoisier }) => [fromM, isNoisier])).toEqual([[0, false], [20_000, true]]);
  });
});
