import { describe, expect, it } from 'vitest';
import { coordinateCauses } from '../../../../../src/core/quality/cause/hypotheses/coordinate-causes.js';
import type { CauseDay, OtherZone } from '../../../../../src/core/quality/cause/cause-day.js';
import { causeContext, causePoint, formOf, formsOf, readOf } from './a-day.js';

/** A grid of 1000 units a degree, from `origin`; it ends at 70°. */
const grid = (origin: number): Pick<OtherZone, 'forward' | 'inverse'> => ({
  forward: (latitudeDeg, longitudeDeg, out) => {
    if (latitudeDeg > 70) return 'coordinate-outside-domain';
    Object.assign(out, { first: 1000 * longitudeDeg + origin, second: 1000 * latitudeDeg });
    return 'ok';
  },
  inverse: (first, second, out) => {
    if (second > 70_000) return 'coordinate-outside-domain';
    Object.assign(out, { latitudeDeg: second / 1000, longitudeDeg: (first - origin) / 1000 });
    return 'ok';
  },
});
const POINT = causePoint('A', {
  latitudeDeg: 31.51,
  longitudeDeg: -15.51,
  knownFirstM: 300,
  knownSecondM: 500,
  knownHeightM: 100,
});
const formsFor = (change: Partial<CauseDay> = {}, point = POINT) => coordinateCauses(causeContext([point], change));
const close = (values: readonly number[]): readonly unknown[] =>
  values.map((value) => expect.closeTo(value, 9) as unknown);
const fixedOf = (models: ReturnType<typeof formsFor>, subject: string): readonly number[] => [
  ...(formOf(models, subject).fixed ?? []),
];

describe('coordinates exchanged or of another sign', () => {
  const axes = formsOf(formsFor(), 'axes');

  it.each([
    ['the two values are exchanged', [200, -200, 0]],
    ['the first value has lost its sign', [-600, 0, 0]],
    ['the second value has lost its sign', [0, -1000, 0]],
    ['both values have the opposite sign', [-600, -1000, 0]],
    ['the values are exchanged and have the opposite sign', [-800, -800, 0]],
  ])('%s', (subject, fixed) => {
    expect(fixedOf(axes, subject)).toEqual(close(fixed));
    expect(formOf(axes, subject).choices).toBe(5);
    expect(readOf(formOf(axes, subject), [])).toEqual({});
    expect(fixedOf(formsOf(formsFor({ axisSigns: [-1, -1] }), 'axes'), subject)).toEqual(
      close(fixed.map((value) => (value === 0 ? 0 : -value))),
    );
  });

  it('are not sought where a value is not known', () => {
    expect(formsOf(formsFor({}, { ...POINT, knownSecondM: null }), 'axes')).toEqual([]);
    expect(formsOf(formsFor({}, { ...POINT, knownFirstM: null }), 'axes')).toEqual([]);
    expect(formsOf(formsFor({}, { ...POINT, eastM: null, northM: null }), 'axes')).toEqual([]);
  });
});

describe('another zone', () => {
  const own = grid(0);
  const day = { ...own, otherZones: [{ name: 'the next', ...grid(7000) }], metresPerUnit: 0.5 };

  it('is where the place has its values in it: measured there', () => {
    const zones = formsOf(formsFor(day), 'zone');
    // 1000 units of half a metre a degree, and 7000 units to the origin.
    expect(fixedOf(zones, "measured in the next, known in the system's own")).toEqual(
      close([0.5 * (-15_510 + 7000) - 300, 0.5 * 31_510 - 500, 0]),
    );
    expect(zones.map(({ choices }) => choices)).toEqual([2, 2]);
  });

  it('or where the known values are of it: the place they have there, in the own', () => {
    const zones = formsOf(formsFor(day), 'zone');
    expect(fixedOf(zones, "known in the next, measured in the system's own")).toEqual(close([-3500, 0, 0]));
  });

  it('is the known side alone where each measured pair is its own place in the system', () => {
    const zones = formsOf(formsFor({ ...day, isMeasuredSound: true }), 'zone');
    expect(zones.map(({ subject, choices }) => [subject[0], choices])).toEqual([['k', 1]]);
  });

  it('is not sought outside of a zone, nor without a place or a pair', () => {
    const zones = (point: Partial<typeof POINT>, change: Partial<CauseDay> = {}) =>
      formsOf(formsFor({ ...day, ...change }, { ...POINT, ...point }), 'zone').map(({ subject }) => subject[0]);
    expect(zones({})).toEqual(['m', 'k']);
    expect(zones({ latitudeDeg: null })).toEqual(['k']);
    expect(zones({ longitudeDeg: null })).toEqual(['k']);
    expect(zones({ latitudeDeg: 71 })).toEqual(['k']);
    expect(zones({ knownFirstM: null })).toEqual(['m']);
    expect(zones({ knownSecondM: null })).toEqual(['m']);
    expect(zones({ knownSecondM: 36_000 })).toEqual(['m']);
    expect(zones({}, { forward: null })).toEqual(['m']);
    expect(formsOf(formsFor({ ...own, otherZones: [] }), 'zone')).toEqual([]);
  });
});

describe('minutes read as decimals of a degree', () => {
  const models = formsOf(formsFor({ ...grid(0), metresPerUnit: 2 }), 'degrees-minutes');

  it('are sixty to a degree, written as hundredths', () => {
    // 31.51° is 31°30.6′, written 31.306; −15.51° is −15°30.6′.
    expect(fixedOf(models, 'minutes and decimals of a minute after the point')).toEqual(
      close([-2 * 15_306 - 300, 2 * 31_306 - 500, 0]),
    );
    // 31°30′36″ is written 31.3036.
    expect(fixedOf(models, 'minutes and seconds after the point')).toEqual(
      close([-2 * 15_303.6 - 300, 2 * 31_303.6 - 500, 0]),
    );
    expect(models.map(({ choices }) => choices)).toEqual([2, 2]);
  });

  it('keep whole minutes whole', () => {
    // 0.55° and 0.7° are 33 and 42 minutes, but for the last digit of a double.
    const whole = formsOf(
      formsFor({ ...grid(0) }, { ...POINT, latitudeDeg: 31.55, longitudeDeg: 15.7 }),
      'degrees-minutes',
    );
    for (const { fixed } of whole) expect([...(fixed ?? [])]).toEqual(close([15_420 - 300, 31_330 - 500, 0]));
  });

  it('are not sought outside of the grid, nor without one or a place', () => {
    const count = (point: Partial<typeof POINT>, change: Partial<CauseDay> = grid(0)): number =>
      formsOf(formsFor(change, { ...POINT, ...point }), 'degrees-minutes').length;
    expect(count({})).toBe(2);
    expect(count({}, {})).toBe(0);
    expect(count({ latitudeDeg: null })).toBe(0);
    expect(count({ longitudeDeg: null })).toBe(0);
    expect(count({ latitudeDeg: 75.9 })).toBe(0);
  });
});

describe('feet', () => {
  const feet = formsOf(formsFor(), 'feet');
  const FOOT = 0.3048;
  const SURVEY_FOOT = 1200 / 3937;

  it('are of two kinds, either way, in plan, in height or both: twelve forms, and two of one kind for the other', () => {
    expect(feet).toHaveLength(14);
    expect(new Set(feet.map(({ choices }) => choices))).toEqual(new Set([14]));
  });

  it.each([
    ['coordinates: international feet read as metres', 1 / FOOT, 1],
    ['heights: international feet read as metres', 1, 1 / FOOT],
    ['coordinates and heights: US survey feet read as metres', 1 / SURVEY_FOOT, 1 / SURVEY_FOOT],
    ['coordinates: metres read as international feet', FOOT, 1],
    ['heights: metres read as US survey feet', 1, SURVEY_FOOT],
    ['coordinates: US survey feet read as international feet', FOOT / SURVEY_FOOT, 1],
    ['coordinates: international feet read as US survey feet', SURVEY_FOOT / FOOT, 1],
  ])('%s', (subject, plan, height) => {
    expect(fixedOf(feet, subject)).toEqual(close([300 * (plan - 1), 500 * (plan - 1), 100 * (height - 1)]));
    expect(readOf(formOf(feet, subject), [])?.['factor']).toBeCloseTo(plan === 1 ? height : plan, 12);
  });

  it('need what they change to be known and compared', () => {
    const subjects = (change: Partial<typeof POINT>): ReadonlySet<string | undefined> =>
      new Set(formsOf(formsFor({}, { ...POINT, ...change }), 'feet').map(({ subject }) => subject.split(':')[0]));
    expect(subjects({ knownFirstM: null })).toEqual(new Set(['heights']));
    expect(subjects({ knownSecondM: null })).toEqual(new Set(['heights']));
    expect(subjects({ knownHeightM: null })).toEqual(new Set(['coordinates']));
    expect(subjects({ upM: null })).toEqual(new Set(['coordinates']));
    expect(subjects({ eastM: null, northM: null })).toEqual(new Set(['heights']));
  });
});
