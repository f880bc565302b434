import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../../src/core/ellipsoid/ellipsoid.js';
import type { CauseDay } from '../../../../../src/core/quality/cause/cause-day.js';
import { datumCauses } from '../../../../../src/core/quality/cause/hypotheses/datum-causes.js';
import type { FrameShift } from '../../../../../src/core/quality/cause/hypotheses/frame-shift.js';
import { causeContext, causePoint, formOf, readOf } from './a-day.js';

/** The other frame's values are larger by so much along each axis of the ellipsoid. */
const shift = (x: number, y: number, z: number, grid: FrameShift['grid'] = null): FrameShift => ({
  name: 'another frame',
  source: 'invented',
  toOther: (xM, yM, zM, out) => {
    Object.assign(out, { xM: xM + x, yM: yM + y, zM: zM + z });
  },
  toOwn: (xM, yM, zM, out) => {
    Object.assign(out, { xM: xM - x, yM: yM - y, zM: zM - z });
  },
  ellipsoid: WGS84,
  grid,
});
/** A grid that is true in length about 0° 0°: metres along the equator and the meridian of the ellipsoid. */
const EAST_M = (WGS84.semiMajorAxisM * Math.PI) / 180;
const NORTH_M = EAST_M * (1 - 0.006_694_379_990_14);
const forward: NonNullable<CauseDay['forward']> = (latitudeDeg, longitudeDeg, out) => {
  Object.assign(out, { first: longitudeDeg * EAST_M, second: latitudeDeg * NORTH_M });
  return 'ok';
};
const inverse: NonNullable<CauseDay['inverse']> = (first, second, out) => {
  Object.assign(out, { latitudeDeg: second / NORTH_M, longitudeDeg: first / EAST_M });
  return 'ok';
};
// At 0° 0° x is up, y east and z north.
const POINT = causePoint('A', { latitudeDeg: 0, longitudeDeg: 0, knownFirstM: 0, knownSecondM: 0, knownHeightM: 0 });
const formsOf = (frame: FrameShift, day: Partial<CauseDay> = {}, point = POINT) =>
  datumCauses(causeContext([point], { forward, inverse, frameShifts: [frame], ...day }));
const millimetres = (pattern: Float64Array | null): readonly number[] =>
  [...(pattern ?? [])].map((value) => Math.round(value * 1000) + 0);

describe('another datum', () => {
  // One metre up, two east, three north.
  const forms = formsOf(shift(1, 2, 3));

  it('puts the shift on what is measured, or takes it off what is known', () => {
    expect(millimetres(formOf(forms, 'the measured values are in another frame (invented)').fixed)).toEqual([
      2000, 3000, 1000,
    ]);
    expect(millimetres(formOf(forms, 'the known values are in another frame (invented)').fixed)).toEqual([
      -2000, -3000, -1000,
    ]);
  });

  it('may have kept the heights', () => {
    const kept = formOf(forms, 'the measured values are in another frame (invented), heights kept');
    expect(millimetres(kept.fixed)).toEqual([2000, 3000, 0]);
    expect(readOf(kept, [])).toEqual({ in_plan: expect.closeTo(Math.hypot(2, 3), 3) as unknown });
    const whole = formOf(forms, 'the known values are in another frame (invented)');
    expect(readOf(whole, [])).toEqual({
      in_plan: expect.closeTo(Math.hypot(2, 3), 3) as unknown,
      in_height: expect.closeTo(-1, 3) as unknown,
    });
  });

  it('counts plain slips among themselves, and the rest among all', () => {
    const plain = ['measured', 'known'].map((values) =>
      formOf(forms, `the ${values} values are in another frame (invented)`),
    );
    expect(plain.map(({ choices }) => choices)).toEqual([2, 2]);
    const others = forms.filter((form) => !plain.includes(form));
    expect(new Set(others.map(({ choices }) => choices))).toEqual(new Set([forms.length]));
    expect(forms.length).toBe(4);
  });

  it('names a pattern once: a base at the point is the same shift', () => {
    expect(forms.some(({ subject }) => subject.includes('base'))).toBe(false);
    // A quarter of the globe away it is another: up at the base is east there.
    const bases: CauseDay['bases'] = new Map([
      [
        'N',
        {
          name: 'N',
          markKey: 'N',
          markSigmas: { horizontalM: 0, verticalM: 0 },
          latitudeDeg: 0,
          longitudeDeg: -90,
          sigmaHorizontalM: null,
          sigmaVerticalM: null,
          antenna: null,
        },
      ],
    ]);
    const far = formsOf(shift(1, 2, 3), { bases }, { ...POINT, baseId: 'N' });
    const kept = formOf(far, 'the base was given in another frame, geocentric (invented), heights kept');
    // At 90° west y is down: without it one metre and three are left, which lie up and north here.
    expect(millimetres(kept.fixed)).toEqual([0, 3000, 0]);
  });

  it('may be that of a grid on the other ellipsoid', () => {
    const grid = {
      forward: ((latitudeDeg, longitudeDeg, out) => {
        forward(latitudeDeg, longitudeDeg, out);
        out.first += 500;
        return 'ok';
      }) satisfies NonNullable<CauseDay['forward']>,
      inverse: ((first, second, out) => inverse(first - 500, second, out)) satisfies NonNullable<CauseDay['inverse']>,
    };
    const own = formsOf(shift(1, 2, 3, grid));
    expect(
      millimetres(formOf(own, 'the measured values are of the same grid on another frame (invented)').fixed),
    ).toEqual([502_000, 3000, 1000]);
    const [east = 0] = millimetres(
      formOf(own, 'the known values are of the same grid on another frame (invented)').fixed,
    );
    expect(east).toBe(-502_000);
  });

  it('is along the axes of the grid and in its unit', () => {
    const west = formsOf(shift(1, 2, 3), { axisSigns: [-1, -1] });
    expect(millimetres(formOf(west, 'the measured values are in another frame (invented)').fixed)).toEqual([
      -2000, -3000, 1000,
    ]);
    const halves = formsOf(shift(1, 2, 3), { metresPerUnit: 0.5 });
    expect(millimetres(formOf(halves, 'the measured values are in another frame (invented)').fixed)).toEqual([
      1000, 1500, 1000,
    ]);
  });

  it('is not sought without plan, a grid or a place', () => {
    expect(formsOf(shift(1, 2, 3), {}, { ...POINT, eastM: null, northM: null })).toEqual([]);
    expect(formsOf(shift(1, 2, 3), { forward: null }).every(({ subject }) => subject.includes('base'))).toBe(true);
    expect(formsOf(shift(1, 2, 3), {}, { ...POINT, latitudeDeg: null })).toEqual([]);
    expect(formsOf(shift(1, 2, 3), {}, { ...POINT, longitudeDeg: null })).toEqual([]);
    const unknown = formsOf(shift(1, 2, 3), {}, { ...POINT, knownFirstM: null });
    expect(unknown.every(({ subject }) => subject.includes('base'))).toBe(true);
    expect(
      formsOf(shift(1, 2, 3), {}, { ...POINT, upM: null }).some(({ subject }) => subject.includes('heights kept')),
    ).toBe(false);
  });
});
