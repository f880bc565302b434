import { describe, expect, it } from 'vitest';
import { leanCauses } from '../../../../../src/core/quality/cause/hypotheses/lean-causes.js';
import type { CauseDay, CausePoint } from '../../../../../src/core/quality/cause/cause-day.js';
import { causeContext, causePoint, readOf } from './a-day.js';

const sin = (deg: number): number => Math.sin((deg * Math.PI) / 180);
const cos = (deg: number): number => Math.cos((deg * Math.PI) / 180);
/** The lean of a stand whose measurement lies to the north as far as a pole of 2 m that leans so brings it. */
const leanOf = (leanDeg: number, change: Partial<CausePoint> = {}, day: Partial<CauseDay> = {}) =>
  leanCauses(
    causeContext([causePoint('A', { poleLengthM: 2, northM: 2 * sin(leanDeg), ...change }), causePoint('B')], day),
  ).find(({ subject }) => subject === 'A');

describe('a lean that was not taken off', () => {
  it('is an offset in plan of any direction, with the drop that a pole of this length has there', () => {
    const form = leanOf(6);
    expect(form?.columns.map((column) => [...column])).toEqual([
      [1, 0, 0, 0, 0, 0],
      [0, 1, 0, 0, 0, 0],
    ]);
    const drop = -2 * (1 - cos(6));
    expect([...(form?.fixed ?? [])]).toEqual(
      [0, 0, drop, 0, 0, 0].map((value) => expect.closeTo(value, 12) as unknown),
    );
    expect(form).toMatchObject({ choices: 2, isWhitened: true, stand: { name: 'A', isOnlyOfPoint: true } });
    expect(form === undefined ? null : readOf(form, [0.12, 0.16])).toEqual({
      lean: expect.closeTo((Math.asin(0.1) * 180) / Math.PI, 9) as unknown,
      east: 0.12,
      north: 0.16,
    });
    expect(form === undefined ? null : readOf(form, [0, 2])).toBeNull();
  });

  it('takes a pole of 2 m where none is stated, and no drop without heights', () => {
    expect(leanOf(6, { poleLengthM: null })?.fixed?.[2]).toBeCloseTo(-2 * (1 - cos(6)), 9);
    expect(leanOf(6, { upM: null })?.fixed).toBeNull();
    expect(leanOf(6, { eastM: null })).toBeUndefined();
    expect(leanCauses(causeContext([causePoint('A', { eastM: null, northM: null })]))).toEqual([]);
  });

  // docs/methods/likely-cause.md: the largest lean that is believed at a stand.
  it.each([
    ['a pole held to a bubble, at most 8°', {}, {}, 8],
    [
      'an instrument that measures tilts, at most what the session accepts',
      {},
      { isTiltMeasured: true, largestLeanDeg: 15 },
      15,
    ],
    ['or 30°, where it sets no limit', {}, { isTiltMeasured: true }, 30],
    ['a measured tilt, at most twice, and three degrees', { tiltDeg: 5 }, { isTiltMeasured: true }, 13],
  ] as const)('is %s', (_, point, day, mostDeg) => {
    expect(leanOf(mostDeg - 0.01, point, day)).toBeDefined();
    expect(leanOf(mostDeg + 0.01, point, day)).toBeUndefined();
  });

  it.each([
    // −2 ln of the likelihood beside no lean: a bubble is one sigma of 3°; a tilt left out has odds of one in five.
    ['a bubble', {}, {}, 6, 4],
    ['a measured tilt of nothing, known to 1°', { tiltDeg: 0 }, { isTiltMeasured: true }, 2, 4],
    ['a tilt that was left out', { tiltDeg: 5 }, { isTiltMeasured: true }, 5, 2 * Math.log(5)],
    ['half a degree beside it', { tiltDeg: 5 }, { isTiltMeasured: true }, 5.5, 2 * Math.log(5) + 0.25],
    ['a tilt that was taken off the wrong way', { tiltDeg: 5 }, { isTiltMeasured: true }, 10.5, 2 * Math.log(5) + 0.25],
    ['what the measurement may be wrong by', { tiltDeg: 5 }, { isTiltMeasured: true }, 1, 1],
    ['tilts that are measured, but not of this stand', {}, { isTiltMeasured: true }, 12, 2 * Math.log(5)],
    ['or as little as unseen', {}, { isTiltMeasured: true }, 3, 1],
  ] as const)('is as implausible as %s', (_, point, day, leanDeg, expected) => {
    const size = 2 * sin(leanDeg);
    expect(leanOf(1, point, day)?.implausibility?.([0.6 * size, 0.8 * size])).toBeCloseTo(expected, 9);
  });
});
