import { describe, expect, it } from 'vitest';
import type { OccupationEstimate } from '../../../../src/core/observation/repeats/occupation-estimate.js';
import { noisyDay } from '../../../../src/core/quality/day/noisy-day.js';
import type { ContrastedPoint, DayNoise } from '../../../../src/core/quality/day/noisy-day.js';
import { contrastLinks } from '../../../support/contrast-links.js';
import type { BaselineLink } from '../../../../src/core/quality/day/contrast-links.js';
import { standContrasts } from '../../../../src/core/quality/day/stand-contrasts.js';
import type { BaselineContrast } from '../../../../src/core/quality/day/stand-contrasts.js';
import type { LocalVector } from '../../../../src/records/points/point.js';

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
const SIGMA = {
  noise: [0.004, 0.008],
  slow: [0.006, 0.012],
  growing: [0.0125, 0.032],
  pole: [0.004, 0.002],
  mark: [0.05, 0.08],
} as const;
const square = (sigma: readonly [number, number]): OccupationEstimate['mark'] => ({
  eeM2: sigma[0] ** 2,
  enM2: 0,
  euM2: 0,
  nnM2: sigma[0] ** 2,
  nuM2: 0,
  uuM2: sigma[1] ** 2,
});
const sum = (one: OccupationEstimate['mark'], other: OccupationEstimate['mark']): OccupationEstimate['mark'] => ({
  ...one,
  eeM2: one.eeM2 + other.eeM2,
  nnM2: one.nnM2 + other.nnM2,
  uuM2: one.uuM2 + other.uuM2,
});
const POLE = { planM2: SIGMA.pole[0] ** 2, upM2: SIGMA.pole[1] ** 2, azimuthRad: null };

function stand(position: LocalVector, hour: number, change: Partial<OccupationEstimate> = {}): OccupationEstimate {
  const startMs = 3_600_000 * hour;
  return {
    position,
    independent: sum(square(SIGMA.noise), square(SIGMA.pole)),
    correlated: square(SIGMA.slow),
    baseline: square(SIGMA.growing),
    mark: square(SIGMA.mark),
    setup: square([0, 0]),
    markKey: 'M',
    setupKey: 'S',
    baselineM: 30_000,
    startMs,
    endMs: startMs + 10_000,
    ...change,
  };
}

const at = (eastM: number, northM = 0, upM = 0): LocalVector => ({ eastM, northM, upM });

describe('standContrasts', () => {
  it('is the difference of two stands, from which point and mark fall out', () => {
    const found = standContrasts([stand(at(5, 7, 9), 0), stand(at(5.03, 7, 8.9), 3)], [POLE, POLE], TIMES);
    expect(found.map(({ differenceM }) => Number(differenceM.toFixed(6)))).toEqual([0.03, 0, -0.1]);
    // Three hours are eighteen correlation times in plan: twice the sum of squares of noise, slow and growing, and no mark.
    expect(found[0]?.constantM2).toBeCloseTo(2 * (0.004 ** 2 + 0.006 ** 2), 9);
    expect(found[0]?.growingM2).toBeCloseTo(2 * 0.0125 ** 2, 9);
    expect(found[0]?.otherM2).toBeCloseTo(2 * 0.004 ** 2 + 2e-8, 12);
    // Height: what is left of the slow errors after 10,800 s at 2,200 s.
    const left = 1 - Math.exp(-10_800 / 2200);
    expect(found[2]?.constantM2).toBeCloseTo(2 * 0.008 ** 2 + 2 * left * 0.012 ** 2, 9);
    expect(found[2]?.growingM2).toBeCloseTo(2 * left * 0.032 ** 2, 9);
  });

  it('takes the error of a set-up off within one, and leaves it between two of one mark', () => {
    const setup = square([0.002, 0.003]);
    const otherOf = (second: string): number =>
      standContrasts([stand(at(0), 0, { setup }), stand(at(0), 3, { setup, setupKey: second })], [POLE, POLE], TIMES)[2]
        ?.otherM2 ?? NaN;
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
    const found = standContrasts(
      places.map((east, hour) => stand(at(east), 100 * hour)),
      places.map(() => POLE),
      TIMES,
    ).slice(0, 3);
    const mean = places.reduce((total, east) => total + east, 0) / 4;
    const variance = 0.004 ** 2 + 0.006 ** 2 + 0.0125 ** 2 + 0.004 ** 2 + 1e-8;
    const expected = places.reduce((total, east) => total + (east - mean) ** 2, 0) / variance;
    expect(
      found.reduce(
        (total, { differenceM, constantM2, growingM2, otherM2 }) =>
          total + differenceM ** 2 / (constantM2 + growingM2 + otherM2),
        0,
      ),
    ).toBeCloseTo(expected, 6);
    expect(
      standContrasts(
        Array.from({ length: 23 }, (_, hour) => stand(at(0), hour)),
        Array.from({ length: 23 }, () => POLE),
        TIMES,
      ),
    ).toHaveLength(3 * (9 + 9 + 2));
  });
});

describe('contrastLinks', () => {
  const pair = (azimuthRad: number | null, hours: readonly [number, number]): readonly BaselineContrast[] =>
    standContrasts(
      hours.map((hour) => stand(at(0), hour)),
      [0, 1].map(() => ({ ...POLE, azimuthRad })),
      TIMES,
    );
  const linked = (
    a: number | null,
    b: number | null,
    hours: readonly [number, number] = [0, 3],
  ): readonly BaselineLink[] => contrastLinks([...pair(a, [0, 3]), ...pair(b, hours)], [0, 0, 0, 1, 1, 1]);

  it('makes one of what grows in one direction at one time, nothing across it, and the opposite the other way', () => {
    const [along] = linked(1, 1);
    // Both ends of both differences: twice the variance of one end, less what three hours leave of the height's.
    expect(along).toMatchObject({ first: 0, second: 3, pairs: 2 });
    expect(along?.growingM2).toBeCloseTo(2 * 0.0125 ** 2, 9);
    expect(along?.constantM2).toBeCloseTo(0.006 ** 2, 9);
    expect(linked(1, 1 + Math.PI / 2)[0]?.growingM2).toBeCloseTo(0, 12);
    expect(linked(1, 1 + Math.PI)[0]?.growingM2).toBeCloseTo(-2 * 0.0125 ** 2, 9);
    expect(linked(null, 1)[0]?.growingM2).toBeCloseTo(2 * 0.0125 ** 2, 9);
  });

  it('fades with time, and links nothing of one point or from two marks', () => {
    expect(linked(1, 1, [0.1, 3.1])[0]?.growingM2).toBeCloseTo(2 * Math.exp(-360 / 600) * 0.0125 ** 2, 9);
    expect(linked(1, 1, [30, 33])).toEqual([]);
    expect(contrastLinks([...pair(1, [0, 3]), ...pair(1, [0, 3])], [0, 0, 0, 0, 0, 0])).toEqual([]);
    const other = standContrasts(
      [0, 3].map((hour) => stand(at(0), hour, { markKey: 'N' })),
      [POLE, POLE],
      TIMES,
    );
    expect(contrastLinks([...pair(1, [0, 3]), ...other], [0, 0, 0, 1, 1, 1])).toEqual([]);
  });
});

interface Day {
  readonly points: readonly ContrastedPoint[];
  /** Errors of single stands against their points, the mark left aside, metres, and the share of 30 km they were measured over. */
  readonly errors: readonly { readonly error: LocalVector; readonly reach: number }[];
}

interface DaySettings {
  /** Of what grows with the baseline; of all of the model. */
  readonly times?: number;
  readonly allTimes?: number;
  /** The first point's second stand is wrong by so much along east. */
  readonly blunderM?: number;
  /** All points are stood on at one time, under one gradient, and then at another. */
  readonly isShared?: boolean;
}

/** Points with two stands three hours apart, from 3 to 30 km in all directions. */
function dayOf(
  random: () => number,
  points: number,
  { times = 1, allTimes = 1, blunderM = 0, isShared = false }: DaySettings = {},
): Day {
  const errors: Day['errors'][number][] = [];
  const draw = (axis: 0 | 1): number =>
    allTimes * (SIGMA.noise[axis] * random() + SIGMA.slow[axis] * random()) + SIGMA.pole[axis] * random();
  const mark = [SIGMA.mark[0] * random(), SIGMA.mark[0] * random(), SIGMA.mark[1] * random()] as const;
  const gradients = [0, 1].map(() => [0, 1, 2].map(() => [random(), random()] as const));
  const days = Array.from({ length: points }, (_, index): ContrastedPoint => {
    const reach = 0.1 + (0.9 * (index + 1)) / points;
    const azimuthRad = 2.4 * index;
    const growing = (round: number, axis: number): number => {
      const [north, east] = isShared ? (gradients[round]?.[axis] ?? [0, 0]) : [random(), random()];
      return (
        times *
        allTimes *
        reach *
        SIGMA.growing[axis === 2 ? 1 : 0] *
        (north * Math.cos(azimuthRad) + east * Math.sin(azimuthRad))
      );
    };
    const own = [0, 3].map((hour, round) => {
      const error = at(draw(0) + growing(round, 0), draw(0) + growing(round, 1), draw(1) + growing(round, 2));
      errors.push({ error, reach });
      const wrong = index === 0 && round === 1 ? blunderM : 0;
      const baseline = square([SIGMA.growing[0] * reach, SIGMA.growing[1] * reach]);
      return stand(
        at(mark[0] + error.eastM + wrong, mark[1] + error.northM, mark[2] + error.upM),
        isShared ? hour : hour + 10 * index,
        { baseline, baselineM: 30_000 * reach },
      );
    });
    return {
      pointId: `P${String(index)}`,
      contrasts: standContrasts(
        own,
        [0, 1].map(() => ({ ...POLE, azimuthRad })),
        TIMES,
      ),
    };
  });
  return { points: days, errors };
}

/** Shares of errors within the 95 % circle and height figure of the model, its parts times what the day says. */
function coverage(days: readonly Day[], dayOfDay: (day: Day) => DayNoise | null): readonly [number, number] {
  let [plan, up, count] = [0, 0, 0];
  for (const day of days) {
    const said = dayOfDay(day);
    const [growing, constant] =
      said?.isNoisier !== true ? [1, 1] : [said.allowed, said.part === 'all' ? said.allowed : 1];
    for (const {
      error: { eastM, northM, upM },
      reach,
    } of day.errors) {
      const variance = (axis: 0 | 1): number =>
        constant * (SIGMA.noise[axis] ** 2 + SIGMA.slow[axis] ** 2) +
        growing * (reach * SIGMA.growing[axis]) ** 2 +
        SIGMA.pole[axis] ** 2;
      count += 1;
      // 5.991 and 3.841: the 95 % points of chi-square with 2 and 1 degrees of freedom (NIST handbook, table 1.3.6.7.4).
      if ((eastM ** 2 + northM ** 2) / variance(0) <= 5.991) plan += 1;
      if (upM ** 2 / variance(1) <= 3.841) up += 1;
    }
  }
  return [plan / count, up / count];
}

const NOTHING = (): null => null;

describe('noisyDay', () => {
  it('covers 90 % and more where what grows is three times the model, under one atmosphere or many; the model alone covers far less', () => {
    for (const isShared of [false, true]) {
      const random = normals(20_261_129);
      const noisy = Array.from({ length: 120 }, () => dayOf(random, 10, { times: 3, isShared }));
      for (const share of coverage(noisy, NOTHING)) expect(share).toBeLessThan(0.8);
      for (const share of coverage(noisy, ({ points }) => noisyDay(points))) expect(share).toBeGreaterThan(0.9);
      const clean = Array.from({ length: 120 }, () => dayOf(random, 10, { isShared }));
      for (const share of coverage(clean, ({ points }) => noisyDay(points))) expect(share).toBeGreaterThan(0.925);
    }
  }, 60_000);

  it('holds the true factor of what grows within its interval in 95 of 100 days, also where all points share the atmosphere', () => {
    for (const isShared of [false, true]) {
      const random = normals(1_234);
      const days = 300;
      let [held, degrees] = [0, 0];
      for (let day = 0; day < days; day += 1) {
        const found = noisyDay(dayOf(random, 12, { times: 3, isShared }).points);
        if (found !== null && found.low95 <= 9 && 9 <= found.high95) held += 1;
        degrees += (found?.degreesOfFreedom ?? NaN) / days;
      }
      // Three standard errors of 0.95 in 300 days are 0.038; the likelier of two parts is not always the true one.
      expect(held / days).toBeGreaterThan(0.9);
      // Two components of a gradient on three axes are six; what does not grow adds little.
      if (isShared) expect(degrees).toBeLessThan(12);
      else expect(degrees).toBeGreaterThan(15);
    }
  }, 60_000);

  it('calls about 1 % of clean days noisy at most, whether or not one repeat is wrong, and nearly all noisy ones', () => {
    const random = normals(7_011);
    const share = (points: number, settings: DaySettings, days: number): number =>
      Array.from({ length: days }, () => noisyDay(dayOf(random, points, settings).points)?.isNoisier).filter(Boolean)
        .length / days;
    // Three standard errors of 0.01 in 400 days are 0.0149.
    expect(share(8, {}, 400)).toBeLessThan(0.025);
    expect(share(8, { isShared: true }, 400)).toBeLessThan(0.025);
    expect(share(8, { blunderM: 0.19 }, 400)).toBeLessThan(0.025);
    expect(share(3, { blunderM: 0.19 }, 400)).toBeLessThan(0.025);
    expect(share(2, { blunderM: 0.19 }, 400)).toBeLessThan(0.025);
    expect(share(1, { blunderM: 0.19 }, 20)).toBe(0);
    expect(share(10, { times: 3 }, 200)).toBeGreaterThan(0.9);
    expect(share(10, { allTimes: 3 }, 100)).toBeGreaterThan(0.95);
  }, 60_000);

  it('tells noise that grows from noise everywhere', () => {
    const random = normals(31);
    const parts = (settings: DaySettings): number =>
      Array.from({ length: 60 }, () => noisyDay(dayOf(random, 16, settings).points)?.part).filter(
        (part) => part === 'all',
      ).length;
    expect(parts({ times: 4 })).toBeLessThan(12);
    expect(parts({ allTimes: 3 })).toBeGreaterThan(25);
  }, 60_000);

  it('leaves a wrong repeat out of the factor, and says which', () => {
    const found = noisyDay(dayOf(normals(5), 8, { blunderM: 0.19 }).points);
    expect(found).toMatchObject({ points: 7, contrasts: 21, leftOut: ['P0'], isNoisier: false });
    const noisy = noisyDay(dayOf(normals(5), 12, { times: 3, blunderM: 1.2 }).points);
    expect(noisy).toMatchObject({ leftOut: ['P0'], isNoisier: true });
    expect(noisy?.factor).toBeGreaterThan(4);
    expect(noisy?.factor).toBeLessThan(20);
  });

  it('takes two wrong repeats of six for blunders, which do not hide each other', () => {
    const [first] = dayOf(normals(31), 1, { blunderM: 0.19 }).points;
    const found = noisyDay([
      ...dayOf(normals(8), 5, { blunderM: 0.21 }).points,
      { pointId: 'Q', contrasts: first?.contrasts ?? [] },
    ]);
    expect(found).toMatchObject({ points: 4, isNoisier: false });
    expect([...(found?.leftOut ?? [])].sort()).toEqual(['P0', 'Q']);
  });

  it('says the factor of the whole model by length of baseline, more the farther', () => {
    const found = noisyDay(dayOf(normals(99), 12, { times: 3 }).points);
    expect(found?.part).toBe('growing');
    const factors = (found?.byBaseline ?? []).map(({ factor }) => factor);
    expect((found?.byBaseline ?? []).map(({ fromM }) => fromM)).toEqual([0, 10_000, 20_000]);
    expect(factors).toEqual([...factors].sort((a, b) => a - b));
    expect(factors[0]).toBeGreaterThan(1);
    expect(factors[2]).toBeLessThan(found?.factor ?? 0);
  });

  it('says nothing of nothing', () => {
    expect(noisyDay([])).toBeNull();
    expect(noisyDay([{ pointId: 'P', contrasts: [] }])).toBeNull();
  });
});
