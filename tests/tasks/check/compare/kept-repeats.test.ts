import { describe, expect, it } from 'vitest';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { checkRepeats } from '../../../../src/tasks/check/compare/check-tolerances-repeats.js';
import { judgeRepeats } from '../../../../src/tasks/check/compare/check-tolerances-stands.js';
import { dayOfCheck } from '../../../../src/tasks/check/day-of-check.js';
import { placePoint } from '../../../../src/tasks/check/compare/check-tolerances-place.js';
import type { CheckSetup } from '../../../../src/tasks/check/judge/check-tolerances-setup.js';
import { PLAIN_CHECK, checkBase, pointRow } from '../../../support/check-setup.js';
import { keptRecord } from '../../../support/kept-record.js';

// Regression, kept whole: what is made of invented occupations, pair by pair and together. Whether it is right is what
// check-tolerances-repeats.test.ts holds.

const part = (horizontalM: number, verticalM: number): { horizontalM: number; verticalM: number } => ({
  horizontalM,
  verticalM,
});
const origin = (latitudeDeg: number): object => ({
  origin: { geodetic: { latitudeDeg, longitudeDeg: 15, ellipsoidalHeightM: 400 } },
});
const BASES = [
  {
    ...checkBase('B1', { mark: part(0.003, 0.005), setup: part(0.001, 0.002), setupKey: 's1', markKey: 'm1' }),
    ...origin(47),
  },
  {
    ...checkBase('B2', { mark: part(0.002, 0.004), setup: part(0.002, 0.001), setupKey: 's2', markKey: 'm2' }),
    ...origin(47.2),
  },
] as unknown as CheckSetup['bases'];
const rule = (axis: '2d' | 'up', constantM: number): CheckSetup['repeatRules'][number] => ({
  ...{ name: `limit ${axis}`, axis, probability: null, combine: 'linear', constantM, ppm: 1, distanceOffsetM: 0 },
  ...{ perRootKmM: 0, floorM: null, capM: null },
});

const OFF = [0.4, -0.7, 0.2, 0.9, -0.5, -0.3, 0.8, 0.1, -0.6, 0.6, -0.9, 0.3, -0.2, 0.7];
function stand(place: number, change: Partial<PointRow> = {}): PointRow {
  const off = (axis: number, sizeM: number): number => sizeM * (OFF[(3 * place + 5 * axis) % OFF.length] ?? 0);
  return pointRow({
    ...{ pointId: 'P', occupation: String(place + 1), baseId: place % 2 === 0 ? 'B1' : 'B2' },
    ...{ gridFirst: 1000 + off(0, 0.02), gridSecond: 2000 + off(1, 0.02), orthometricHeightM: 300 + off(2, 0.03) },
    ...{ baselineM: 9000 + 500 * place, baselineAzimuthDeg: 30, baselineHeightDifferenceM: -20 },
    ...{ firstEpochMs: 5_000_000 * place, lastEpochMs: 5_000_000 * place + 30_000 },
    ...{ sigmaEastM: 0.012, sigmaNorthM: 0.014, sigmaUpM: 0.022, correlationEn: 0.1, poleLengthM: 2 },
    ...change,
  });
}
const stands = (count: number, change: (place: number) => Partial<PointRow> = () => ({})): readonly PointRow[] =>
  Array.from({ length: count }, (_, place) => stand(place, change(place)));
const geographic = (place: number): Partial<PointRow> => ({
  ...{ gridFirst: null, gridSecond: null, orthometricHeightM: null },
  ...{ latitudeDeg: 47.08 + 1e-7 * (OFF[place] ?? 0), longitudeDeg: 15.02 - 2e-7 * (OFF[place + 3] ?? 0) },
  ellipsoidalHeightM: 350 + 0.02 * (OFF[place + 5] ?? 0),
});

const known: CheckSetup = { ...PLAIN_CHECK, bases: BASES };
const ruled: CheckSetup = { ...known, repeatRules: [rule('2d', 0.03), rule('up', 0.04)] };
const CASES: Readonly<Record<string, readonly [readonly PointRow[], CheckSetup]>> = {
  'four stands from two bases': [stands(4), known],
  'four stands of one axis to the west and south': [
    stands(4),
    { ...ruled, axes: { first: 'westing', second: 'southing', signs: [-1, -1], metresPerUnit: 0.3048 } },
  ],
  'a pole too long at the second': [
    stands(3, (p) => (p === 1 ? { orthometricHeightM: 300.3, poleLengthM: 1.7 } : {})),
    known,
  ],
  'a place 2 dm off at the third': [stands(4, (p) => (p === 2 ? { gridFirst: 1000.2 } : {})), ruled],
  'beyond the limit in height alone': [stands(3, (p) => (p === 2 ? { orthometricHeightM: 300.2 } : {})), ruled],
  'latitude and longitude': [stands(5, geographic), known],
  'latitude and longitude, off by a metre': [
    stands(3, (p) => ({ ...geographic(p), ...(p === 2 ? { latitudeDeg: 47.08001 } : {}) })),
    ruled,
  ],
  'bases that nobody describes': [stands(3), PLAIN_CHECK],
  'bases that nobody describes, 5 cm apart': [stands(3, (p) => (p === 1 ? { gridSecond: 2000.05 } : {})), PLAIN_CHECK],
  'bases that nobody describes, a metre apart': [stands(3, (p) => (p === 1 ? { gridSecond: 2001 } : {})), PLAIN_CHECK],
  'no base, no time, no baseline': [
    stands(3, () => ({ baseId: null, firstEpochMs: null, lastEpochMs: null, baselineM: null })),
    known,
  ],
  'a first epoch and no last': [stands(3, (p) => (p === 1 ? { lastEpochMs: null } : {})), known],
  'a height that one does not have': [stands(3, (p) => (p === 0 ? { orthometricHeightM: null } : {})), ruled],
  'a height that none has': [stands(2, () => ({ orthometricHeightM: null })), ruled],
  'too soon after each other': [
    stands(3, (p) => ({ firstEpochMs: 60_000 * p, lastEpochMs: 60_000 * p + 5000 })),
    ruled,
  ],
  'no sigma stated': [stands(3, () => ({ sigmaEastM: null, sigmaNorthM: null, sigmaUpM: null })), known],
  'a dozen stands of one point': [stands(12, () => ({ baseId: 'B1' })), known],
};
const LEFT_OUT = ['row', 'passThrough', 'place', 'measured', 'known'];

describe('occupations of one point, as they were compared', () => {
  it.each(Object.entries(CASES))('%s', async (name, [points, setup]) => {
    const checked = checkRepeats(points, null, 'points.csv', setup);
    if (!checked.ok) throw new Error(checked.problems[0]?.message);
    const { rows, groups, misclosures, single } = checked.value;
    const { estimates, times, test } = judgeRepeats(
      points.map((row) => placePoint(row, setup)),
      0.01,
      setup,
    );
    const whole = {
      ...{ rows: Array.from({ length: rows.length }, (_, at) => ({ ...rows.at(at) })), groups, misclosures, single },
      ...{ estimates, times, test, day: dayOfCheck([], groups, setup) },
    };
    await expect(keptRecord(whole, LEFT_OUT)).toMatchFileSnapshot(`./repeats/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });
});
