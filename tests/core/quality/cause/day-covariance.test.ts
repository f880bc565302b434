import { describe, expect, it } from 'vitest';
import type { CauseBase, CauseDay, CausePoint } from '../../../../src/core/quality/cause/cause-day.js';
import { dayCovariance, noiseCovariance, usableCovariance } from '../../../../src/core/quality/cause/day-covariance.js';
import { causeContext, causePoint } from './hypotheses/a-day.js';

const base = (markKey: string, change: Partial<CauseBase> = {}): CauseBase => ({
  name: markKey,
  markKey,
  markSigmas: { horizontalM: 0.01, verticalM: 0.02 },
  latitudeDeg: 0,
  longitudeDeg: 0,
  sigmaHorizontalM: 0.3,
  sigmaVerticalM: 0.6,
  antenna: null,
  ...change,
});
// Measured: 1 m² in east, 2 in north, 4 in height, 0.5 between east and north; the control 0.01 and 0.04 m².
const point = (pointId: string, change: Partial<CausePoint> = {}): CausePoint =>
  causePoint(pointId, {
    covariance: { eeM2: 1, enM2: 0.5, euM2: 0.3, nnM2: 2, nuM2: 0.2, uuM2: 4 },
    controlHorizontalM2: 0.01,
    controlVerticalM2: 0.04,
    baseId: 'N',
    middleMs: 0,
    ...change,
  });
const BASES = new Map([['N', base('mark N')]]);

/** Entry of the matrix between an axis of one point and one of another, three values a point. */
function between(points: readonly CausePoint[], day: Partial<CauseDay> = {}) {
  const context = causeContext(points, { bases: BASES, ...day });
  const matrix = dayCovariance(context.day, context.list);
  const size = context.list.count;
  const at = (i: number, j: number): number => matrix[i * size + j] ?? NaN;
  return (p: number, axisP: number, q: number, axisQ: number): number => {
    expect(at(3 * p + axisP, 3 * q + axisQ)).toBe(at(3 * q + axisQ, 3 * p + axisP));
    return at(3 * p + axisP, 3 * q + axisQ);
  };
}

describe('dayCovariance', () => {
  it('of one value is what was measured, the control, the geoid and a tenth of a millimetre', () => {
    const own = between([point('A')], { geoidSigmaM: 0.05 });
    expect(own(0, 0, 0, 0)).toBeCloseTo(1 + 0.01 + 1e-8, 12);
    expect(own(0, 1, 0, 1)).toBeCloseTo(2 + 0.01 + 1e-8, 12);
    expect(own(0, 2, 0, 2)).toBeCloseTo(4 + 0.04 + 0.0025 + 1e-8, 12);
    expect(own(0, 0, 0, 1)).toBe(0.5);
    // East and north alone are correlated by what is measured.
    expect(own(0, 0, 0, 2)).toBe(0);
    expect(own(0, 1, 0, 2)).toBe(0);
    const ellipsoidal = between([point('A')], { geoidSigmaM: 0.05, heightKind: 'ellipsoidal' });
    expect(ellipsoidal(0, 2, 0, 2)).toBeCloseTo(4 + 0.04 + 1e-8, 12);
  });

  it('between points of a base is the part of the base, and seven tenths of the rest at one time', () => {
    const two = between([point('A'), point('B')]);
    // The base has 0.09 m² in plan and 0.36 m² in height.
    expect(two(0, 0, 1, 0)).toBeCloseTo(0.09 + 0.7 * 0.91, 12);
    expect(two(0, 1, 1, 1)).toBeCloseTo(0.09 + 0.7 * 1.91, 12);
    expect(two(0, 2, 1, 2)).toBeCloseTo(0.36 + 0.7 * 3.64, 12);
    expect(two(0, 0, 1, 1)).toBe(0);
    // Of two different variances, their geometric mean.
    const other = point('B', { covariance: { eeM2: 4, enM2: 0, euM2: 0, nnM2: 2, nuM2: 0, uuM2: 4 } });
    expect(between([point('A'), other])(0, 0, 1, 0)).toBeCloseTo(0.09 + 0.7 * Math.sqrt(0.91 * 3.91), 12);
  });

  it('lets what is slow fade with time, by its own time in height', () => {
    const later = between([point('A', { middleMs: 0 }), point('B', { middleMs: 1_200_000 })]);
    expect(later(0, 0, 1, 0)).toBeCloseTo(0.09 + 0.7 * 0.91 * Math.exp(-1200 / 600), 12);
    expect(later(0, 2, 1, 2)).toBeCloseTo(0.36 + 0.7 * 3.64 * Math.exp(-1200 / 2200), 12);
    const half = between([point('A', { middleMs: 0 }), point('B', { middleMs: null })]);
    expect(half(0, 0, 1, 0)).toBeCloseTo(0.09 + 0.7 * 0.91, 12);
  });

  it('counts what is slow of an occupation without a time as shared and as its own: no less than either', () => {
    const untimed = between([point('A', { middleMs: null }), point('B', { middleMs: null })]);
    expect(untimed(0, 0, 1, 0)).toBeCloseTo(0.09 + 0.7 * 0.91, 12);
    expect(untimed(0, 0, 0, 0)).toBeCloseTo(1 + 0.7 * 0.91 + 0.01 + 1e-8, 12);
    expect(untimed(0, 2, 0, 2)).toBeCloseTo(4 + 0.7 * 3.64 + 0.04 + 1e-8, 12);
    const half = between([point('A'), point('B', { middleMs: null })]);
    expect(half(0, 0, 0, 0)).toBeCloseTo(1 + 0.01 + 1e-8, 12);
    expect(half(1, 0, 1, 0)).toBeCloseTo(1 + 0.7 * 0.91 + 0.01 + 1e-8, 12);
  });

  it('takes as much again for the base where that states no sigma, and never more than there is where it does', () => {
    const undescribed = between([point('A'), point('B')], { bases: new Map() });
    expect(undescribed(0, 0, 1, 0)).toBeCloseTo(1 + 0.7 * 1, 12);
    expect(undescribed(0, 0, 0, 0)).toBeCloseTo(1 + 1 + 0.01 + 1e-8, 12);
    const unstated = new Map([['N', base('N', { sigmaHorizontalM: null, sigmaVerticalM: null })]]);
    expect(between([point('A'), point('B')], { bases: unstated })(0, 2, 1, 2)).toBeCloseTo(4 + 0.7 * 4, 12);
    const large = new Map([['N', base('N', { sigmaHorizontalM: 9 })]]);
    expect(between([point('A'), point('B')], { bases: large })(0, 0, 1, 0)).toBeCloseTo(1, 12);
  });

  it('between bases is what one mark shares, and nothing between marks', () => {
    const points = [point('A'), point('B', { baseId: 'S' })];
    const sharing = between(points, { bases: new Map([...BASES, ['S', base('mark N')]]) });
    expect(sharing(0, 0, 1, 0)).toBeCloseTo(0.0001, 15);
    expect(sharing(0, 2, 1, 2)).toBeCloseTo(0.0004, 15);
    expect(between(points, { bases: new Map([...BASES, ['S', base('mark S')]]) })(0, 0, 1, 0)).toBe(0);
    expect(between([point('A'), point('B', { baseId: null })])(0, 0, 1, 0)).toBe(0);
    expect(between([point('A'), point('B', { baseId: 'S' })])(0, 0, 1, 0)).toBe(0);
  });

  it('between occupations of one control point is its error as well', () => {
    const twice = between([point('A', { occupation: '1' }), point('A', { occupation: '2', baseId: null })]);
    expect(twice(0, 0, 1, 0)).toBeCloseTo(0.01, 12);
    expect(twice(0, 2, 1, 2)).toBeCloseTo(0.04, 12);
  });

  it('lets errors of the geoid fade over 20 km', () => {
    // At 60° a fifth of a degree of longitude is 11.1 km, a tenth of latitude too; a sphere of 6371 km.
    const at = (pointId: string, latitudeDeg: number, longitudeDeg: number) =>
      point(pointId, { baseId: pointId, latitudeDeg, longitudeDeg });
    const degreeM = (6_371_000 * Math.PI) / 180;
    const expected = 0.0025 * Math.exp((-0.1 * degreeM) / 20_000);
    for (const points of [
      [at('A', 60, 15), at('B', 60, 15.2)],
      [at('A', 60, 15), at('B', 60.1, 15)],
    ])
      expect(between(points, { geoidSigmaM: 0.05 })(0, 2, 1, 2) / expected).toBeCloseTo(1, 3);
    const unplaced = [at('A', 60, 15), { ...at('B', 60, 15.2), longitudeDeg: null }];
    expect(between(unplaced, { geoidSigmaM: 0.05 })(0, 2, 1, 2)).toBeCloseTo(0.0025, 12);
    expect(between([at('A', 60, 15), at('B', 60, 15.2)])(0, 2, 1, 2)).toBe(0);
    expect(between([at('A', 60, 15), at('B', 60, 15)], { geoidSigmaM: 0.05 })(0, 0, 1, 0)).toBe(0);
  });
});

describe('noiseCovariance', () => {
  it('is what is left of the measured without the base, on the axes that grow', () => {
    const context = causeContext([point('A'), point('B')], { bases: BASES, geoidSigmaM: 0.05 });
    const entry = (grows: { readonly plan: boolean; readonly height: boolean }) => {
      const matrix = noiseCovariance(context.day, context.list, grows);
      return (i: number, j: number): number => matrix[i * 6 + j] ?? NaN;
    };
    const plan = entry({ plan: true, height: false });
    expect(plan(0, 0)).toBeCloseTo(0.91, 12);
    expect(plan(0, 3)).toBeCloseTo(0.7 * 0.91, 12);
    expect(plan(0, 1)).toBe(0.5);
    expect(plan(2, 2)).toBe(0);
    const height = entry({ plan: false, height: true });
    expect(height(2, 2)).toBeCloseTo(3.64, 12);
    expect(height(2, 5)).toBeCloseTo(0.7 * 3.64, 12);
    expect([height(0, 0), height(0, 1), height(0, 3)]).toEqual([0, 0, 0]);
  });
});

describe('usableCovariance', () => {
  const hour = 3_600_000;
  // East and north go apart, so that nothing stated contradicts itself.
  const apart = { covariance: { eeM2: 1, enM2: 0, euM2: 0, nnM2: 2, nuM2: 0, uuM2: 4 } };
  const timed = Array.from({ length: 9 }, (_, n) => point(`P${String(n)}`, { ...apart, middleMs: n * hour }));
  /** The share of a value between two occupations that the whole covariance keeps. */
  const kept = (points: readonly CausePoint[], day: Partial<CauseDay> = {}): number => {
    const { day: whole, list } = causeContext(points, { bases: BASES, ...day });
    const usable = usableCovariance(whole, list);
    const size = list.count;
    return (usable?.covariance[3 * size] ?? NaN) / (dayCovariance(whole, list)[3 * size] ?? NaN);
  };

  it('is that of the day where an occupation among timed ones has no time: it stands in their middle', () => {
    const late = { ...apart, middleMs: null };
    const points = [...timed, point('X', late)];
    expect(kept(points)).toBe(1);
    const of = between(points);
    // The middle of nine hours is the fifth; beside it nothing fades.
    expect(of(9, 0, 4, 0)).toBeCloseTo(0.09 + 0.7 * 0.91, 12);
    expect(of(9, 0, 0, 0)).toBeCloseTo(of(4, 0, 0, 0), 12);
    // Two without a time are at one time.
    expect(between([...timed, point('X', late), point('Y', late)])(10, 0, 9, 0)).toBeCloseTo(0.09 + 0.7 * 0.91, 12);
    // What another base has is no help.
    const other = { baseId: 'M', middleMs: null };
    expect(between([...timed, point('X', other), point('Y', other)])(10, 2, 9, 2)).toBeCloseTo(4 + 0.7 * 4, 12);
  });

  it('is that of the day where the place of one control point is not known', () => {
    const placed = timed.map((one, n) => ({ ...one, latitudeDeg: -30 + n / 10, longitudeDeg: 21 }));
    const points = [...placed, point('X', { ...apart, latitudeDeg: null, longitudeDeg: null, middleMs: 0 })];
    expect(kept(points, { geoidSigmaM: 5 })).toBe(1);
  });

  it('shares less where what is stated apart contradicts itself, and keeps every variance', () => {
    // All of the variance is the base's, and yet east and north of each occupation go together.
    const covariance = { eeM2: 1, enM2: 0.9, euM2: 0, nnM2: 1, nuM2: 0, uuM2: 1 };
    const points = Array.from({ length: 6 }, (_, n) => point(`P${String(n)}`, { covariance, middleMs: 0 }));
    const bases = new Map([['N', base('mark N', { sigmaHorizontalM: 0.99, sigmaVerticalM: 0.3 })]]);
    expect(kept(points, { bases })).toBe(0.4);
    const { day, list } = causeContext(points, { bases });
    const usable = usableCovariance(day, list);
    const stated = dayCovariance(day, list);
    for (let i = 0; i < list.count; i += 1)
      expect(usable?.covariance[i * (list.count + 1)]).toBe(stated[i * (list.count + 1)]);
  });

  it('is none where a variance is no number', () => {
    const { day, list } = causeContext([point('A', { controlHorizontalM2: NaN })], { bases: BASES });
    expect(usableCovariance(day, list)).toBeNull();
  });
});
