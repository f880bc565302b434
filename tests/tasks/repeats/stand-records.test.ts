import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import type { LocalCovariance } from '../../../src/records/points/point.js';
import type { ReducedPoint, UncertaintyParts } from '../../../src/records/points/reduced-point.js';
import type { ReductionSetup } from '../../../src/tasks/reduce/reduction-setup.js';
import { createStandRecorder, standAt, wasAcceptedAt } from '../../../src/tasks/repeats/stand-records.js';

const BASE = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1044.5 };
const setup = {
  bases: [
    { identity: { setupKey: 'B1#1' }, origin: { geodetic: BASE } },
    { identity: { setupKey: 'B1#2' }, origin: { geodetic: { ...BASE, latitudeDeg: -31.6 } } },
  ],
  geodesic: createGeodesic(GRS80),
} as unknown as ReductionSetup;

/** Six variances that no other part of the budget has: every sum of two tells which they were. */
const part = (first: number): LocalCovariance => ({
  eeM2: first,
  enM2: first + 1,
  euM2: first + 2,
  nnM2: first + 3,
  nuM2: first + 4,
  uuM2: first + 5,
});
const uncertainty: UncertaintyParts = {
  noise: part(1),
  pole: part(100),
  correlated: part(1000),
  age: part(20_000),
  baseline: part(3000),
  bend: part(400),
  base: part(500_000),
  total: part(600_000),
  geoidVarianceM2: 7,
};

const point = (own: Partial<ReducedPoint>): ReducedPoint =>
  ({
    position: { geodetic: { latitudeDeg: -31.51, longitudeDeg: 21.42, ellipsoidalHeightM: 1050.25 } },
    uncertainty,
    firstEpochMs: 1_772_600_000_000,
    lastEpochMs: 1_772_600_030_000,
    poleLengthM: 2,
    setupKey: 'B1#2',
    verdict: 'accepted',
    ...own,
  }) as ReducedPoint;

/** The points as they come back after they were written one after another. */
function recorded(points: readonly ReducedPoint[], room = points.length) {
  const recorder = createStandRecorder(setup);
  recorder.start(room);
  for (const one of points) recorder.add(one);
  expect(recorder.count()).toBe(points.length);
  const records = recorder.take();
  return points.map((_, index) => ({
    stand: standAt(records, index, setup),
    isAccepted: wasAcceptedAt(records, index),
  }));
}

describe('occupations written as plain numbers', () => {
  it('come back with noise and pole together, slow errors with the age, and what grows with the baseline and bends apart', () => {
    const [{ stand }] = recorded([point({})]) as [ReturnType<typeof recorded>[number]];
    // By hand: noise + pole is 101 + 2k of the k-th; correlated + age is 21000 + 2k; whole numbers this small are whole in single precision.
    expect(stand).toMatchObject({
      geodetic: { latitudeDeg: -31.51, longitudeDeg: 21.42, ellipsoidalHeightM: 1050.25 },
      independent: { eeM2: 101, enM2: 103, euM2: 105, nnM2: 107, nuM2: 109, uuM2: 111 },
      // Of the pole the mean of east and north, (100 + 103)/2, and up.
      pole: { planM2: 101.5, upM2: 105 },
      correlated: { eeM2: 21_000, enM2: 0, euM2: 0, nnM2: 21_006, nuM2: 0, uuM2: 21_010 },
      baseline: { eeM2: 3000, enM2: 0, euM2: 0, nnM2: 3003, nuM2: 0, uuM2: 3005 },
      bend: { eeM2: 400, enM2: 401, euM2: 0, nnM2: 403, nuM2: 0, uuM2: 405 },
      base: null,
      setupKey: 'B1#2',
      startMs: 1_772_600_000_000,
      endMs: 1_772_600_030_000,
      poleLengthM: 2,
    });
  });

  it('each stand where they were written, accepted or not, with the distance from their own base', () => {
    const at = (latitudeDeg: number, own: Partial<ReducedPoint> = {}): ReducedPoint =>
      point({
        position: { geodetic: { latitudeDeg, longitudeDeg: 21.4, ellipsoidalHeightM: 0 } } as ReducedPoint['position'],
        ...own,
      });
    const found = recorded([
      at(-31.5, { setupKey: 'B1#1' }),
      at(-31.5, { verdict: 'review' }),
      at(-31.6, { verdict: 'rejected' }),
    ]);
    expect(found.map(({ isAccepted }) => isAccepted)).toEqual([true, false, false]);
    expect(found.map(({ stand }) => stand?.geodetic.latitudeDeg)).toEqual([-31.5, -31.5, -31.6]);
    expect(found.map(({ stand }) => stand?.setupKey)).toEqual(['B1#1', 'B1#2', 'B1#2']);
    const [own, tenth, other] = found.map(({ stand }) => stand?.baselineM);
    expect(own).toBeCloseTo(0, 9);
    expect(other).toBeCloseTo(0, 9);
    // A tenth of a degree of latitude at 31.55°: radius of the meridian 6,352,897 m (GRS 80, a(1 - e²)/(1 - e² sin² φ)^1.5) times π/1800.
    expect(tenth).toBeCloseTo(11_087.9, 1);
  });

  it('say nothing where nothing is known: no position, no time, no pole, no base', () => {
    const found = recorded([
      point({ position: null }),
      point({ uncertainty: null }),
      point({ firstEpochMs: null, lastEpochMs: null, poleLengthM: null, setupKey: null }),
      point({ lastEpochMs: null }),
    ]).map(({ stand }) => stand);
    expect(found.slice(0, 2)).toEqual([null, null]);
    expect(found[2]).toMatchObject({
      startMs: null,
      endMs: null,
      poleLengthM: null,
      setupKey: null,
      baselineM: null,
    });
    expect(found[3]).toMatchObject({ startMs: 1_772_600_000_000, endMs: NaN });
  });

  it('tell bases apart that the session names without describing them', () => {
    const keys = recorded([
      point({ setupKey: 'C7' }),
      point({ setupKey: 'C8', verdict: 'review' }),
      point({ setupKey: 'C7', verdict: 'review' }),
      point({ setupKey: null }),
      point({ setupKey: 'B1#1' }),
    ]).map(({ stand, isAccepted }) => [stand?.setupKey, isAccepted] as const);
    const [first, second, again, none, known] = keys.map(([key]) => key);
    expect(first).toMatch(/^unknown -/u);
    expect(second).not.toBe(first);
    expect(again).toBe(first);
    expect(none).toBeNull();
    expect(known).toBe('B1#1');
    expect(keys.map(([, isAccepted]) => isAccepted)).toEqual([true, false, false, true, true]);
  });

  it('keep nothing of the room that was not used, and begin anew', () => {
    const recorder = createStandRecorder(setup);
    recorder.start(3);
    recorder.add(point({}));
    recorder.add(point({ poleLengthM: 1.5 }));
    const two = recorder.take();
    expect([two.places.length, two.numbers.length % 2, recorder.count()]).toEqual([8, 0, 2]);
    expect(standAt(two, 1, setup)?.poleLengthM).toBe(1.5);
    recorder.start(1);
    expect(recorder.count()).toBe(0);
    recorder.add(point({ poleLengthM: 1.25 }));
    const one = recorder.take();
    expect(one.places.length).toBe(4);
    expect(standAt(one, 0, setup)?.poleLengthM).toBe(1.25);
    expect(one.numbers.length).toBe(two.numbers.length / 2);
  });
});
