import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ZERO_COVARIANCE } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import type { ReducedPoint } from '../../../../src/records/points/reduced-point.js';
import { joinedList, PACK } from '../../../../src/tasks/reduce/packing/packed-records.js';
import { createPackedReduced } from '../../../../src/tasks/reduce/packing/reduced-packing.js';

const text = fc.constantFrom('', 'a', 'b', ' ', '0', 'NaN');
const number = fc.oneof(fc.constantFrom(0, -0, 1, 0.1), fc.double({ noNaN: true }));
const orNull = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(value, { nil: null });
const covariance = fc.oneof(
  fc.constant(ZERO_COVARIANCE),
  fc.record({ eeM2: number, enM2: number, euM2: number, nnM2: number, nuM2: number, uuM2: number }),
);

const point: fc.Arbitrary<ReducedPoint> = fc
  .record({
    pointId: text,
    occupation: text,
    code: text,
    baseId: orNull(text),
    setupKey: orNull(text),
    poleLengthM: orNull(number),
    baseline: orNull(fc.record({ distanceM: number, azimuthDeg: orNull(number), heightDifferenceM: number })),
    firstEpochMs: orNull(number),
    lastEpochMs: orNull(number),
    epochsUsed: fc.nat(),
    epochsRejected: fc.nat(),
    effectiveEpochs: orNull(number),
    position: orNull(
      fc.record({
        geodetic: fc.record({ latitudeDeg: number, longitudeDeg: number, ellipsoidalHeightM: number }),
        geoidHeightM: orNull(number),
        orthometricHeightM: orNull(number),
        gridFirst: orNull(number),
        gridSecond: orNull(number),
        pointScaleFactor: orNull(number),
        elevationFactor: orNull(number),
        combinedFactor: orNull(number),
        convergenceDeg: orNull(number),
      }),
    ),
    uncertainty: orNull(
      fc.record({
        noise: covariance,
        correlated: covariance,
        baseline: covariance,
        age: covariance,
        pole: covariance,
        base: covariance,
        bend: covariance,
        total: covariance,
        geoidVarianceM2: orNull(number),
      }),
    ),
    summary: orNull(
      fc.record({
        ellipseMajor95M: number,
        ellipseMinor95M: number,
        ellipseAzimuthDeg: number,
        circle95M: number,
        vertical95M: number,
      }),
    ),
    verdict: fc.constantFrom('accepted' as const, 'review' as const, 'rejected' as const),
    reasons: fc.subarray(['point-too-short', 'point-vertical-95', 'point-repeat-odd'] as const),
    passThrough: fc.array(text, { maxLength: 3 }),
    place: fc.record({ sourceIndex: fc.nat(3), line: fc.nat() }),
  })
  .map((own) => structuredClone(own));

/** A list of more than two packs from few different records. */
function repeated<T>(few: readonly T[]): readonly T[] {
  return Array.from({ length: 2 * PACK + 17 }, (_, index) => few[(index * index) % few.length] as T);
}

describe('createPackedReduced', () => {
  it('gives back every point as it was, by its place and in turn', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 8 }), (few) => {
        const points = repeated(few);
        const packed = createPackedReduced();
        for (const own of points) packed.push(own);
        expect(packed.length).toBe(points.length);
        expect([...packed].every((own, index) => isDeepStrictEqual(own, points[index]))).toBe(true);
        for (const index of [0, 1, PACK - 1, PACK, 2 * PACK, points.length - 1])
          expect(packed.at(index)).toStrictEqual(points[index]);
        expect(packed.at(points.length)).toBeUndefined();
      }),
      { numRuns: 12, endOnFailure: true },
    );
  });

  it('gives back an age that is not stated as what the joining knows it by', () => {
    const [some] = fc.sample(point, { seed: 3, numRuns: 1 }) as [ReducedPoint];
    const none = structuredClone(ZERO_COVARIANCE);
    const parts = { noise: none, correlated: none, baseline: none, age: none, pole: none, base: none, bend: none };
    const packed = createPackedReduced();
    for (let index = 0; index < PACK; index += 1)
      packed.push({ ...some, uncertainty: { ...parts, total: none, geoidVarianceM2: null } });
    expect(packed.at(5)?.uncertainty?.age).toBe(ZERO_COVARIANCE);
  });
});

describe('createPackedReduced with room elsewhere', () => {
  it('takes a point as it is when it is pushed, and gives it back from there', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 40 }), (points) => {
        const laidBy: Uint8Array[] = [];
        const room = {
          put: (bytes: Uint8Array) => 1000 * (laidBy.push(bytes.slice()) - 1) * 100,
          get(at: number, into: Uint8Array) {
            const from = at % 100_000;
            into.set((laidBy[Math.floor(at / 100_000)] as Uint8Array).subarray(from, from + into.length));
          },
          close: () => undefined,
        };
        const packed = createPackedReduced(room, { chunk: 4, near: 2, keptBytes: 0 });
        for (const own of points) {
          const changing = structuredClone(own) as { -readonly [K in keyof ReducedPoint]: ReducedPoint[K] };
          packed.push(changing);
          changing.pointId = 'another';
          if (changing.position !== null) Object.assign(changing.position.geodetic, { latitudeDeg: 1 });
        }
        expect(laidBy).toHaveLength(Math.floor(points.length / 4));
        expect([...packed].every((own, index) => isDeepStrictEqual(own, points[index]))).toBe(true);
        for (let index = points.length - 1; index >= 0; index -= 1)
          expect(isDeepStrictEqual(packed.at(index), points[index])).toBe(true);
      }),
    );
  });
});

describe('joinedList', () => {
  it('is its lists one after another, whatever their lengths', () => {
    fc.assert(
      fc.property(fc.array(fc.array(fc.nat(), { maxLength: 4 }), { maxLength: 4 }), (lists) => {
        const flat = lists.flat();
        const joined = joinedList(lists);
        expect([...joined]).toStrictEqual(flat);
        expect(joined.length).toBe(flat.length);
        expect(Array.from({ length: flat.length + 1 }, (_, index) => joined.at(index))).toStrictEqual([
          ...flat,
          undefined,
        ]);
      }),
    );
  });
});
