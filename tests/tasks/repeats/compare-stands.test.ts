import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { localFrameAt } from '../../../src/core/ellipsoid/local-frame.js';
import { requiredSeparationS } from '../../../src/core/observation/repeats/repeat-test.js';
import { ZERO_COVARIANCE } from '../../../src/core/observation/uncertainty/local-covariance.js';
import type { JointTest } from '../../../src/core/quality/joint-test.js';
import type { ReducedPoint } from '../../../src/records/points/reduced-point.js';
import { compareStands } from '../../../src/tasks/repeats/compare-stands.js';
import type { Stand } from '../../../src/tasks/repeats/compare-stands.js';
import { disputeReasons, withReasons } from '../../../src/tasks/repeats/disputed-stands.js';
import { isInDispute, isOfDay, listedPairs, pairPlaces } from '../../../src/tasks/repeats/repeat-pairs.js';
import type { ReductionSetup } from '../../../src/tasks/reduce/reduction-setup.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';

const GEODETIC = { latitudeDeg: 47, longitudeDeg: 9, ellipsoidalHeightM: 500 };
const NEAR = { latitudeDeg: 47.009, longitudeDeg: 9, ellipsoidalHeightM: 500 };
const base = (setupKey: string, own = {}) => ({
  settings: { id: setupKey, fromMs: null, toMs: null },
  identity: {
    setupKey,
    markKey: `mark of ${setupKey}`,
    setupName: setupKey,
    mark: { horizontalM: 0.01, verticalM: 0.02 },
    setup: { horizontalM: 0.003, verticalM: 0.004 },
    ...own,
  },
  origin: { geodetic: GEODETIC, at: 'mark' },
  frame: localFrameAt(47, 9),
});
const setupOf = (...bases: readonly unknown[]): ReductionSetup =>
  ({ bases, ellipsoid: WGS84, geodesic: createGeodesic(WGS84), precision: NORMAL_PRECISION }) as never;
const MINUTE = 60_000;
const own = (m2: number) => ({ ...ZERO_COVARIANCE, eeM2: m2, nnM2: m2, uuM2: m2 });
const stand = (change: Partial<Stand> = {}): Stand => ({
  geodetic: NEAR,
  independent: own(1e-4),
  pole: { planM2: 0, upM2: 0 },
  correlated: ZERO_COVARIANCE,
  baseline: ZERO_COVARIANCE,
  base: null,
  bend: ZERO_COVARIANCE,
  setupKey: 'one',
  baselineM: 1000,
  startMs: 0,
  endMs: MINUTE,
  poleLengthM: 2,
  ...change,
});
const compared = (stands: readonly Stand[], setup = setupOf(base('one'))) => compareStands(stands, setup, 0.01);
const at = (startMin: number, endMin: number, change: Partial<Stand> = {}): Stand =>
  stand({ startMs: startMin * MINUTE, endMs: endMin * MINUTE, ...change });

describe('occupations of one point', () => {
  it('are too soon after one another by the longer of their baselines, whatever their order', () => {
    const needed = requiredSeparationS(1000) / 60;
    const far = requiredSeparationS(50_000) / 60;
    expect(compared([at(0, 1), at(1 + needed, 90 + needed)]).isTooSoon).toBe(false);
    expect(compared([at(0, 1), at(0.99 + needed, 90 + needed)]).isTooSoon).toBe(true);
    expect(compared([at(0.99 + needed, 90 + needed), at(0, 1)]).isTooSoon).toBe(true);
    expect(far).toBeGreaterThan(needed);
    for (const [first, second] of [
      [{ baselineM: 50_000 }, {}],
      [{}, { baselineM: 50_000 }],
    ]) {
      expect(compared([at(0, 1, first), at(1 + far, 900, second)]).isTooSoon).toBe(false);
      expect(compared([at(0, 1, first), at(0.99 + far, 900, second)]).isTooSoon).toBe(true);
    }
    const unknown = requiredSeparationS(null) / 60;
    for (const [first, second] of [
      [{ baselineM: null }, {}],
      [{}, { baselineM: null }],
    ]) {
      expect(compared([at(0, 1, first), at(1 + unknown, 900, second)]).isTooSoon).toBe(false);
      expect(compared([at(0, 1, first), at(0.99 + unknown, 900, second)]).isTooSoon).toBe(true);
    }
  });

  it('are held against the one that ended last, and say nothing without times', () => {
    const needed = requiredSeparationS(1000) / 60;
    // A long one that holds a short one: the third is too near to the long one.
    expect(compared([at(0, 500), at(500 + 2 * needed, 501 + 2 * needed)]).isTooSoon).toBe(false);
    expect(compared([at(0, 1), at(1 + needed, 500), at(499 + needed, 900)]).isTooSoon).toBe(true);
    expect(compared([at(0, 1), at(0, 1, { startMs: null })]).isTooSoon).toBe(false);
    expect(compared([at(0, 1), at(0, 1, { endMs: null })]).isTooSoon).toBe(false);
  });

  it('state one pole or several', () => {
    expect(compared([stand(), stand()]).polesDiffer).toBe(false);
    expect(compared([stand(), stand({ poleLengthM: 2.5 })]).polesDiffer).toBe(true);
    expect(compared([stand(), stand({ poleLengthM: null })]).polesDiffer).toBe(false);
  });

  it('are about the first of them, with the longest of their baselines', () => {
    const { estimates, longestM, times } = compared([
      stand({ baselineM: null }),
      stand({ geodetic: { ...NEAR, ellipsoidalHeightM: 500.25 }, baselineM: 3000 }),
      stand({ baselineM: 2000 }),
    ]);
    expect(longestM).toBe(3000);
    expect(times).toEqual(NORMAL_PRECISION.at(3000, null));
    expect(estimates.map(({ position }) => position.upM)).toEqual(
      [0, 0.25, 0].map((m) => expect.closeTo(m, 6) as unknown),
    );
    expect(compared([stand({ baselineM: null })]).longestM).toBe(0);
  });

  it('have of their base what its mark and its set-up are stated to have, m²', () => {
    const [one] = compared([stand({ bend: own(2e-6) })]).estimates;
    expect(one?.markKey).toBe('mark of one');
    expect(one?.mark.uuM2).toBeCloseTo(0.02 ** 2, 9);
    expect(one?.mark.eeM2).toBeCloseTo(0.01 ** 2, 9);
    expect(one?.setup.eeM2).toBeCloseTo(0.003 ** 2 + 2e-6, 9);
    expect(one?.setup.uuM2).toBeCloseTo(0.004 ** 2 + 2e-6, 9);
    // Of a whole that is given, what is left of it without the marks.
    const inherited = [{ markKey: 'far', horizontalM: 0.02, verticalM: 0.03 }];
    const whole = own(0.01);
    const [two] = compared([stand({ base: whole })], setupOf(base('one', { inherited }))).estimates;
    expect(two?.inherited?.map(({ markKey, covariance }) => [markKey, covariance.eeM2])).toEqual([
      ['far', expect.closeTo(0.0004, 9)],
    ]);
    expect(two?.setup.eeM2).toBeCloseTo(0.01 - 0.0001 - 0.0004, 8);
    // A base that is not described: what is given is of its mark.
    const [three] = compared([stand({ base: whole, setupKey: 'other', bend: own(3e-6) })]).estimates;
    expect(three).toMatchObject({ mark: whole, setup: own(3e-6), markKey: 'other', setupKey: 'other' });
    expect(three?.inherited).toBeUndefined();
    expect(compared([stand({ setupKey: 'other' })]).estimates[0]?.mark).toEqual(ZERO_COVARIANCE);
  });
});

describe('a point that contradicts itself', () => {
  const test = (odd: number | null, disagrees = true): JointTest => ({ disagrees, odd }) as unknown as JointTest;
  it.each([
    [{ test: test(null), polesDiffer: false, isTooSoon: false }, ['point-repeat-disagrees']],
    [{ test: test(1), polesDiffer: false, isTooSoon: false }, ['point-repeat-disagrees', 'point-repeat-odd']],
    [{ test: test(0), polesDiffer: false, isTooSoon: true }, ['point-repeat-disagrees', 'point-repeat-too-soon']],
    [{ test: test(0), polesDiffer: true, isTooSoon: false }, ['point-repeat-disagrees', 'point-pole-length-changed']],
  ] as const)('has for its second occupation the reasons of %j', (comparison, reasons) => {
    expect(disputeReasons(comparison, 1)).toEqual(reasons);
  });

  it('is for review with them, each once', () => {
    const point = { reasons: ['point-repeat-odd'], verdict: 'accepted' } as unknown as ReducedPoint;
    const { reasons, verdict } = withReasons(point, ['point-repeat-odd', 'point-repeat-disagrees']);
    expect(reasons).toEqual(['point-repeat-odd', 'point-repeat-disagrees']);
    expect(verdict).toBe('review');
    expect(withReasons({ ...point, reasons: [] }, []).verdict).toBe('accepted');
  });

  it('is listed pair by pair up to ten occupations, and by neighbours beyond', () => {
    expect(pairPlaces(3)).toEqual([
      [0, 1],
      [0, 2],
      [1, 2],
    ]);
    expect(pairPlaces(1)).toEqual([]);
    expect(pairPlaces(10)).toHaveLength(45);
    expect(pairPlaces(11)).toEqual(Array.from({ length: 10 }, (_, i) => [i, i + 1]));
  });

  it('has the odd one in dispute, or any where none could be named', () => {
    expect(isInDispute(test(1), 0, 1)).toBe(true);
    expect(isInDispute(test(1), 1, 2)).toBe(true);
    expect(isInDispute(test(1), 0, 2)).toBe(false);
    expect(isInDispute(test(null), 0, 2)).toBe(true);
    expect(isInDispute(test(1, false), 0, 1)).toBe(false);
    expect(isInDispute(test(null, false), 0, 1)).toBe(false);
  });

  it('lists what it has of each pair', () => {
    const points = [
      { pointId: 'A', occupation: '1' },
      { pointId: 'A', occupation: '2' },
    ] as unknown as ReducedPoint[];
    const comparison = compared([stand(), at(600, 601)]);
    const pairs = listedPairs(points, comparison);
    expect(pairs.map(({ first, second, disagrees }) => [first, second, disagrees])).toEqual([
      [points[0], points[1], false],
    ]);
    expect(pairs[0]?.test.separationS).toBeCloseTo(599 * 60, 6);
    expect(listedPairs(points.slice(0, 1), comparison)).toEqual([]);
  });

  it('says of the day what every so many do, beyond twenty thousand', () => {
    expect([0, 1, 2].map((place) => isOfDay(place, 20_000))).toEqual([true, true, true]);
    expect([0, 1, 2, 3].map((place) => isOfDay(place, 20_001))).toEqual([true, false, true, false]);
  });
});
