import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LimitVerdict } from '../../src/core/quality/standards/limit-verdict.js';
import type { PointRow } from '../../src/records/points/point-row.js';
import { createCheckRows, measuredPoint } from '../../src/tasks/check/check-row-packing.js';
import { placePoint } from '../../src/tasks/check/compare/check-tolerances-place.js';
import type { CheckRow } from '../../src/tasks/check/judge/check-tolerances-setup.js';
import { entryAt } from '../../src/records/present.js';
import { PACK, recordAt } from '../../src/tasks/reduce/packing/packed-records.js';
import { createPackedPoints } from '../../src/tasks/reduce/point-packing.js';
import { PLAIN_CHECK } from '../support/check-setup.js';

const text = fc.constantFrom('', 'a', 'b', ' ', '0', 'NaN');
const number = fc.oneof(fc.constantFrom(0, -0, 1, 0.1), fc.double({ noNaN: true }));
const orNull = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(value, { nil: null });
const figure = orNull(number);

const point: fc.Arbitrary<PointRow> = fc
  .record({
    pointId: text,
    occupation: text,
    code: text,
    gridFirst: figure,
    gridSecond: figure,
    latitudeDeg: figure,
    longitudeDeg: figure,
    rounding: orNull(fc.record({ grid: number, angleDeg: number })),
    ellipsoidalHeightM: figure,
    orthometricHeightM: figure,
    geoidHeightM: figure,
    baseId: orNull(text),
    baselineM: figure,
    baselineAzimuthDeg: figure,
    baselineHeightDifferenceM: figure,
    firstEpochMs: figure,
    lastEpochMs: figure,
    sigmaEastM: figure,
    sigmaNorthM: figure,
    sigmaUpM: figure,
    correlationEn: figure,
    sigmaHorizontalM: figure,
    sigmaVerticalM: figure,
    combinedFactor: figure,
    poleLengthM: figure,
    tiltDeg: figure,
    toleranceHorizontalM: figure,
    toleranceVerticalM: figure,
    role: orNull(fc.constantFrom('fit' as const, 'both' as const)),
    source: text,
    verdict: text,
    reasons: text,
    passThrough: fc.array(text, { maxLength: 3 }),
    place: fc.record({ sourceIndex: fc.nat(3), line: fc.nat() }),
  })
  .map(({ rounding, ...own }) => structuredClone({ ...own, ...(rounding !== null && { positionRounding: rounding }) }));

const limit: fc.Arbitrary<LimitVerdict> = fc.record({
  limitName: text,
  axis: fc.constantFrom('2d' as const, 'up' as const),
  probability: figure,
  valueM: number,
  limitM: figure,
  marginM: figure,
  governedBy: orNull(fc.constantFrom('floor' as const, 'cap' as const)),
  verdict: fc.constantFrom('within' as const, 'not-stated' as const),
});

/** A comparison without its points. */
const compared: fc.Arbitrary<Omit<CheckRow, 'measured' | 'known'>> = fc.record({
  check: fc.constantFrom('control' as const, 'design' as const),
  pointId: text,
  occupation: text,
  against: text,
  firstM: figure,
  secondM: figure,
  upM: figure,
  heightKind: orNull(fc.constantFrom('orthometric' as const, 'ellipsoidal' as const)),
  alongM: figure,
  acrossM: figure,
  distanceM: figure,
  chainageM: figure,
  separationS: figure,
  horizontalStatistic: figure,
  verticalStatistic: figure,
  limits: fc.array(limit, { maxLength: 3 }),
  verdict: fc.constantFrom('within' as const, 'exceeds' as const),
  reasons: fc.uniqueArray(fc.constantFrom('check-horizontal-limit' as const, 'check-not-stated' as const)),
  covariance: orNull(fc.record({ eeM2: number, enM2: number, euM2: number, nnM2: number, nuM2: number, uuM2: number })),
  vector: orNull(fc.record({ distanceM: figure, azimuthDeg: figure, heightDifferenceM: figure })),
});

const COUNT = 2 * PACK + 17;

/** What a record says, its members asked for one by one. */
function said<T extends object>(record: T, like: T): unknown {
  return structuredClone(Object.fromEntries(Object.keys(like).map((key) => [key, record[key as keyof T]])));
}

/** A point as it says itself, also whether it says how finely its positions are written. */
function ofPoint(own: PointRow, like: PointRow): unknown {
  return said(own, { positionRounding: undefined, ...like });
}

describe('createPackedPoints', () => {
  it('gives back every point as it was', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 8 }), (few) => {
        const points = Array.from({ length: COUNT }, (_, index) => few[(index * index) % few.length] as PointRow);
        const packed = createPackedPoints();
        for (const own of points) packed.push(own);
        expect(
          [...packed].every((own, index) => {
            const like = entryAt(points, index);
            return isDeepStrictEqual(ofPoint(own, like), ofPoint(like, like));
          }),
        ).toBe(true);
        const like = entryAt(points, PACK + 1);
        expect(ofPoint(recordAt(packed, PACK + 1), like)).toStrictEqual(ofPoint(like, like));
      }),
      { numRuns: 12, endOnFailure: true },
    );
  });
});

describe('createCheckRows', () => {
  it('gives back every comparison as it was, its points placed again', () => {
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 6 }),
        fc.array(compared, { minLength: 1, maxLength: 8 }),
        (points, few) => {
          const list = createCheckRows(PLAIN_CHECK);
          const rows = Array.from({ length: COUNT }, (_, index): CheckRow => {
            const [measured, known] = [index % points.length, index % 3 === 0 ? null : (index + 1) % points.length];
            const row = {
              ...(few[(index * index) % few.length] as CheckRow),
              measured: placePoint(points[measured] as PointRow, PLAIN_CHECK),
              known: known === null ? null : placePoint(points[known] as PointRow, PLAIN_CHECK),
            };
            list.push(row, { points, index: measured }, known === null ? null : { points, index: known });
            return row;
          });
          expect(list.rows.length).toBe(COUNT);
          let index = 0;
          for (const row of list.rows) {
            const own = rows[index] as CheckRow;
            // The point of a comparison is the same whether it is placed again or not.
            expect(measuredPoint(row)).toBe(points[index % points.length]);
            expect(measuredPoint(own)).toBe(points[index % points.length]);
            if (!isDeepStrictEqual(said(row, own), structuredClone(own)))
              expect(said(row, own)).toStrictEqual(structuredClone(own));
            index += 1;
          }
        },
      ),
      { numRuns: 8, endOnFailure: true },
    );
  });
});
