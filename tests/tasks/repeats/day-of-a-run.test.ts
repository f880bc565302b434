import { describe, expect, it } from 'vitest';
import { ZERO_COVARIANCE } from '../../../src/core/observation/uncertainty/local-covariance.js';
import { positionalUncertainty } from '../../../src/core/observation/uncertainty/positional-uncertainty.js';
import type { ReducedPoint } from '../../../src/records/points/reduced-point.js';
import type { DayVariance } from '../../../src/records/reports/parts/day-variance.js';
import type { ModelSettings } from '../../../src/records/session.js';
import { addedByDay } from '../../../src/tasks/repeats/added-by-day.js';
import { applied, dayLines, dayOfRepeats, dayUnchanged } from '../../../src/tasks/repeats/day-of-repeats.js';
import { scaledByDay } from '../../../src/tasks/repeats/scale-by-day.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';

// By hand: a factor of variances f makes standard deviations √f times as large. Sentences are a regression.
const DAY = {
  part: 'growing',
  factor: 6.25,
  allowed: 4,
  low95: 2.34,
  high95: 9.87,
  points: 12,
  contrasts: 34,
  leftOut: [],
  isNoisier: true,
  isApplied: true,
  byBaseline: [{ fromM: 0, toM: 10_000, factor: 3.96, low95: 2, high95: 8 }],
} as unknown as DayVariance;
const day = (own: Partial<DayVariance> = {}): DayVariance => ({ ...DAY, ...own });
const PLAIN = { conditions: 'normal', horizontal: null, vertical: null } as unknown as ModelSettings;

describe('what a noisier day adds to a sum', () => {
  const at = NORMAL_PRECISION.at(5000, 40);
  const row = { distanceM: 5000, vector: { heightDifferenceM: 40 } };
  it('is the factor less one, times what grows with the baseline, or the whole model', () => {
    const growing = ({ totalM, constantM }: typeof at.horizontal): number => totalM ** 2 - constantM ** 2;
    expect(addedByDay(row, day(), NORMAL_PRECISION)).toEqual({
      planM2: expect.closeTo(3 * growing(at.horizontal), 15) as unknown,
      upM2: expect.closeTo(3 * growing(at.vertical), 15) as unknown,
    });
    expect(addedByDay(row, day({ part: 'all' }), NORMAL_PRECISION)).toEqual({
      planM2: expect.closeTo(3 * at.horizontal.totalM ** 2, 15) as unknown,
      upM2: expect.closeTo(3 * at.vertical.totalM ** 2, 15) as unknown,
    });
  });
  it('is nothing where nothing is allowed, or no baseline is known and only that part grows', () => {
    expect(addedByDay(row, day({ allowed: 1 }), NORMAL_PRECISION)).toEqual({ planM2: 0, upM2: 0 });
    expect(addedByDay(row, day({ allowed: 0.5 }), NORMAL_PRECISION)).toEqual({ planM2: 0, upM2: 0 });
    expect(addedByDay({ distanceM: null, vector: null }, day(), NORMAL_PRECISION).planM2).toBeCloseTo(0, 15);
    expect(addedByDay({ distanceM: null, vector: null }, day({ part: 'all' }), NORMAL_PRECISION).planM2).toBeCloseTo(
      3 * NORMAL_PRECISION.at(0, null).horizontal.totalM ** 2,
      15,
    );
  });
});

describe('an occupation with the factor of its day', () => {
  const part = (first: number) => ({
    eeM2: first,
    enM2: 0.1 * first,
    euM2: 0.01 * first,
    nnM2: 2 * first,
    nuM2: 0.02 * first,
    uuM2: 3 * first,
  });
  const parts = {
    noise: part(1e-5),
    correlated: part(2e-5),
    baseline: part(4e-5),
    age: part(8e-5),
    pole: part(1e-6),
    base: part(2e-6),
    bend: ZERO_COVARIANCE,
  };
  const point = {
    uncertainty: { ...parts, total: ZERO_COVARIANCE, geoidVarianceM2: 0.0004 },
    summary: { circle95M: 0.02, vertical95M: 0.03 },
    position: { geoidHeightM: 30 },
    reasons: [],
    verdict: 'accepted',
  } as unknown as ReducedPoint;
  const scaled = (own: Partial<DayVariance> | null, change: object = {}, tolerance: object = {}): ReducedPoint =>
    scaledByDay({ ...point, ...change }, own === null ? null : day(own), {
      tolerance: { horizontalM: null, verticalM: null, ...tolerance },
    });
  const ee = ({ uncertainty }: ReducedPoint) =>
    (['noise', 'correlated', 'baseline', 'age', 'pole', 'base', 'total'] as const).map(
      (name) => (uncertainty?.[name].eeM2 ?? NaN) * 1e6,
    );
  const close = (...values: readonly number[]): readonly unknown[] =>
    values.map((value) => expect.closeTo(value, 6) as unknown);

  it('has what grows with the baseline, or all of the model, so many times; pole and base stay', () => {
    expect(ee(scaled({}))).toEqual(close(10, 20, 160, 80, 1, 2, 273));
    expect(ee(scaled({ part: 'all' }))).toEqual(close(40, 80, 160, 320, 1, 2, 603));
    const { uncertainty, summary } = scaled({});
    expect(uncertainty?.baseline).toEqual({
      eeM2: expect.closeTo(16e-5, 12) as unknown,
      enM2: expect.closeTo(16e-6, 12) as unknown,
      euM2: expect.closeTo(16e-7, 12) as unknown,
      nnM2: expect.closeTo(32e-5, 12) as unknown,
      nuM2: expect.closeTo(32e-7, 12) as unknown,
      uuM2: expect.closeTo(48e-5, 12) as unknown,
    });
    expect(summary).toEqual(positionalUncertainty(uncertainty?.total ?? ZERO_COVARIANCE, 0.0004));
    const without = scaled({}, { position: { geoidHeightM: null } });
    expect(without.summary).toEqual(positionalUncertainty(uncertainty?.total ?? ZERO_COVARIANCE, null));
  });

  it('stays as it is where the day is not applied, or it has no uncertainty', () => {
    for (const same of [scaled(null), scaled({ isApplied: false })]) expect(same).toEqual(point);
    expect(scaled({}, { uncertainty: null }).uncertainty).toBeNull();
    expect(scaled({}, { summary: null }).summary).toBeNull();
  });

  it('is held against the tolerance anew', () => {
    const { summary } = scaled({});
    const [circle, vertical] = [summary?.circle95M ?? NaN, summary?.vertical95M ?? NaN];
    const reasons = (horizontalM: number | null, verticalM: number | null, before: readonly string[] = []) => {
      const made = scaled({}, { reasons: before }, { horizontalM, verticalM });
      return [made.verdict, ...made.reasons];
    };
    expect(reasons(circle, vertical)).toEqual(['accepted']);
    expect(reasons(circle - 1e-9, vertical)).toEqual(['review', 'point-horizontal-95']);
    expect(reasons(circle, vertical - 1e-9)).toEqual(['review', 'point-vertical-95']);
    expect(reasons(null, null, ['point-horizontal-95', 'point-vertical-95', 'point-repeat-odd'])).toEqual([
      'review',
      'point-repeat-odd',
    ]);
    // Nothing bends any more.
    expect(reasons(null, null, ['point-base-residual'])).toEqual(['accepted']);
  });

  it('keeps the doubt of a base that bends its vector, where it had it and the bend still matters', () => {
    const bent = { ...point.uncertainty, bend: part(1) };
    const reasons = (before: readonly string[]) => scaled({}, { uncertainty: bent, reasons: before }).reasons;
    expect(reasons(['point-base-residual'])).toEqual(['point-base-residual']);
    expect(reasons([])).toEqual([]);
  });
});

describe('what is said of a day', () => {
  const line = (own: Partial<DayVariance>, precision = PLAIN): string | undefined =>
    dayLines(day(own), precision, 'with --option')[0];
  it('is nothing where it was not noisier', () => {
    expect(dayLines(null, PLAIN, '')).toEqual([]);
    expect(dayLines(day({ isNoisier: false }), PLAIN, '')).toEqual([]);
  });
  it('has factors, intervals and consequence', () => {
    expect(line({})).toBe(
      'the day was noisier than normal conditions: variance factor 4.0 (2.0 to 8.0) up to 10 km, by 34 differences of 12 repeated points; applied: the sigmas of what grows with the baseline are 2.0 times as large',
    );
    expect(line({ isApplied: false, part: 'all' })).toContain(
      '; not applied: the sigmas of the model are too small by a factor of 2.5 (with --option)',
    );
    expect(dayLines(day(), PLAIN, '', 'marks')[0]).toContain('differences of 12 marks;');
    const ranges = [
      { fromM: 10_000, toM: 30_000, factor: 1, low95: 0.5, high95: Infinity },
      { fromM: 30_000, toM: Infinity, factor: 2, low95: 1, high95: 3 },
    ] as unknown as DayVariance['byBaseline'];
    expect(line({ byBaseline: ranges })).toContain(
      'variance factor 1.0 (at least 0.5) from 10 to 30 km, 2.0 (1.0 to 3.0) beyond 30 km, by',
    );
  });
  it('names what was left out, five points at most', () => {
    expect(line({ leftOut: ['A', 'B'] })).toMatch(/; left out, as differing by more than noise: A, B$/u);
    expect(line({ leftOut: ['A', 'B', 'C', 'D', 'E'] })).toMatch(/: A, B, C, D, E$/u);
    expect(line({ leftOut: ['A', 'B', 'C', 'D', 'E', 'F', 'G'] })).toMatch(/: A, B, C, D, E and 2 more$/u);
  });
  it('names the model by its conditions, or as stated where both parts of it are', () => {
    const stated = { conditions: 'open', horizontal: {}, vertical: {} } as unknown as ModelSettings;
    expect(line({}, stated)).toContain('noisier than the stated precision:');
    expect(line({}, { ...stated, vertical: null })).toContain('noisier than open conditions:');
    expect(line({}, { ...stated, horizontal: null })).toContain('noisier than open conditions:');
  });
  it('says why an estimate changed nothing', () => {
    expect(dayUnchanged(day(), PLAIN)).toBeNull();
    expect(dayUnchanged(null, PLAIN)).toBe(
      'no variance factor of the day: no point was occupied again from one base mark',
    );
    expect(dayUnchanged(null, PLAIN, 'check')).toContain('and control says nothing of it');
    expect(dayUnchanged(day({ isApplied: false }), PLAIN)).toBe(
      'no variance factor applied: the repeats do not show the day noisier than normal conditions (6.3, 2.3 to 9.9, of what grows with the baseline)',
    );
    expect(dayUnchanged(day({ isApplied: false }), PLAIN, 'check')).toContain('repeats and control do not show');
  });
  it('is applied where it was noisier', () => {
    expect(applied(null)).toBeNull();
    expect(applied(day({ isApplied: false }))?.isApplied).toBe(true);
    expect(applied(day({ isNoisier: false }))?.isApplied).toBe(false);
    expect(dayOfRepeats([])).toBeNull();
  });
});
