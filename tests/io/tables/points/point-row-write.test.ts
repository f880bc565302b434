import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatFixed } from '../../../../src/core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../../src/core/numeric/text/utc-text.js';
import { createCsvWriter } from '../../../../src/io/csv/csv-write.js';
import { pointCells } from '../../../../src/io/tables/points/point-cells.js';
import { createPointRowWriter } from '../../../../src/io/tables/points/point-row-write.js';
import { digitRoom, NO_NUMBER, writeFixedCells, writeWhole } from '../../../../src/io/text/write-digits.js';
import { writeText } from '../../../../src/io/text/write-text.js';
import { createUtcWriter } from '../../../../src/io/text/write-utc.js';
import type { LocalCovariance } from '../../../../src/records/points/point.js';
import type { ReducedPoint } from '../../../../src/records/points/reduced-point.js';

const room = digitRoom(Buffer.alloc(1000));
const written = (end: number): string => room.bytes.toString('utf8', 3, end);

/** Numbers with commas after them. */
function cells(numbers: readonly number[], decimals: readonly number[]): string {
  return written(writeFixedCells(room, 3, Float64Array.from(numbers), Uint8Array.from(decimals), 0x2c));
}

describe('writeFixedCells', () => {
  const value = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.double({ min: -1e7, max: 1e7, noNaN: true }),
    // Ties, near ties and carries.
    fc
      .tuple(fc.integer({ min: -2_000_000, max: 2_000_000 }), fc.integer({ min: 0, max: 9 }))
      .map(([n, power]) => (n + 0.5) / 10 ** power),
    fc.constantFrom(0, -0, 0.99995, 9.9999999999, -0.00004, 2147483646.9, 2147483647, 1e21, 1e300),
  );

  it('writes the digits of formatFixed', () => {
    fc.assert(
      fc.property(value, fc.integer({ min: 0, max: 12 }), (number, decimals) => {
        fc.pre(number !== NO_NUMBER);
        expect(cells([number], [decimals])).toBe(`${formatFixed(number, decimals)},`);
      }),
      { numRuns: 20_000, seed: 6 },
    );
  });

  it('writes the numbers beside a whole, where a quotient lies on a step', () => {
    for (let decimals = 1; decimals <= 9; decimals += 1)
      for (const scale of [1, 997, 1_000_003])
        for (let n = 1; n <= 300; n += 1)
          for (const beside of [-1, 0, 1]) {
            const number = n * scale + beside / 10 ** decimals;
            const text = cells([number], [decimals]);
            if (text !== `${formatFixed(number, decimals)},`) expect(text).toBe(`${formatFixed(number, decimals)},`);
          }
    expect(cells([29], [2])).toBe('29.00,');
  });

  it('refuses what formatFixed refuses', () => {
    expect(() => cells([NaN], [4])).toThrow();
    expect(() => cells([Infinity], [4])).toThrow();
  });

  it('writes as many as there are decimals for, and nothing where there is no number', () => {
    expect(cells([1.25, NO_NUMBER, -3, 7], [1, 4, 0])).toBe('1.3,,-3,');
  });

  it('writes whole numbers of every length', () => {
    for (const n of [
      0, 9, 10, 99, 100, 999, 1000, 9999, 10000, 99999, 100000, 999999, 1e6, 9999999, 1e7, 99999999, 1e8, 999999999,
      1e9, 2147483647, 2147483648, 1e14,
    ]) {
      expect(written(writeWhole(room, 3, n))).toBe(String(n));
    }
  });
});

describe('writeText and createUtcWriter', () => {
  it('write any text as UTF-8', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (text) => {
        expect(room.bytes.subarray(3, writeText(room.bytes, 3, text)).equals(Buffer.from(text, 'utf8'))).toBe(true);
      }),
      { seed: 7 },
    );
  });

  it('write instants as formatUtc does, whatever the one before', () => {
    const writeUtc = createUtcWriter();
    const ms = fc.oneof(
      fc.integer({ min: -62_167_219_200_000, max: 253_402_300_799_999 }),
      fc.integer({ min: 0, max: 10_000_000 }).map((second) => 1_772_000_000_000 + second * 1000),
    );
    fc.assert(
      fc.property(ms, (instant) => {
        expect(written(writeUtc(room.bytes, 3, instant))).toBe(formatUtc(instant));
      }),
      { numRuns: 3000, seed: 8 },
    );
  });
});

const metres = fc.double({ min: -1e7, max: 1e7, noNaN: true });
const orNull = <T>(values: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(values, { freq: 4 });
const text = fc.oneof(fc.stringMatching(/^[A-Za-z0-9 é-]{0,8}$/u), fc.stringMatching(/^[ab,"\n\r]{0,4}$/u));
const variance = fc.oneof(fc.constant(0), fc.double({ min: 1e-12, max: 1, noNaN: true }));
const covariance: fc.Arbitrary<LocalCovariance> = fc.record({
  eeM2: variance,
  enM2: variance,
  euM2: variance,
  nnM2: variance,
  nuM2: variance,
  uuM2: variance,
});
const point: fc.Arbitrary<ReducedPoint> = fc.record({
  pointId: text,
  occupation: fc.constantFrom('1', '12', '1+2'),
  code: text,
  baseId: orNull(text),
  setupKey: fc.constant(null),
  poleLengthM: orNull(metres),
  baseline: orNull(fc.record({ distanceM: metres, azimuthDeg: orNull(metres), heightDifferenceM: metres })),
  firstEpochMs: orNull(fc.constantFrom(0, 1_772_000_000_000, 1_772_000_000_250)),
  lastEpochMs: orNull(fc.constantFrom(0, 1_772_000_000_000)),
  epochsUsed: fc.nat(),
  epochsRejected: fc.nat(),
  effectiveEpochs: orNull(metres),
  position: orNull(
    fc.record({
      geodetic: fc.record({ latitudeDeg: metres, longitudeDeg: metres, ellipsoidalHeightM: metres }),
      geoidHeightM: orNull(metres),
      orthometricHeightM: orNull(metres),
      gridFirst: orNull(metres),
      gridSecond: orNull(metres),
      pointScaleFactor: orNull(variance),
      elevationFactor: orNull(variance),
      combinedFactor: orNull(variance),
      convergenceDeg: orNull(metres),
    }),
  ),
  uncertainty: orNull(
    covariance.map((total) => ({
      noise: total,
      correlated: total,
      baseline: total,
      age: total,
      pole: total,
      base: total,
      bend: total,
      total,
      geoidVarianceM2: null,
    })),
  ),
  summary: orNull(
    fc.record({
      ellipseMajor95M: metres,
      ellipseMinor95M: metres,
      ellipseAzimuthDeg: metres,
      circle95M: metres,
      vertical95M: metres,
    }),
  ),
  verdict: fc.constantFrom('accepted', 'review', 'rejected'),
  reasons: fc.constantFrom([], ['point-drift'], ['point-drift', 'point-step']),
  passThrough: fc.array(text, { maxLength: 3 }),
  place: fc.constant({ sourceIndex: 0, line: 2 }),
});

describe('createPointRowWriter', () => {
  it('writes the bytes of the general writer, quotes and all', () => {
    fc.assert(
      fc.property(
        fc.array(point, { maxLength: 5 }),
        fc.constantFrom('\n', '\r\n'),
        fc.constantFrom(',', ';'),
        (points, eol, delimiter) => {
          const options = { delimiter, eol, bom: false } as const;
          const columns = ['a', 'b'];
          const writer = createPointRowWriter(columns, options);
          for (const one of points) writer.add(one);
          expect(writer.take().toString('utf8')).toBe(
            points.map((one) => createCsvWriter(columns, options).rows([pointCells(one)])).join(''),
          );
        },
      ),
      { numRuns: 2000, seed: 9 },
    );
  });

  it('grows with what it is given, and leaves a piece untouched until the second take after it', () => {
    const writer = createPointRowWriter(['a', 'b'], { delimiter: ',', eol: '\n', bom: false });
    const [one] = fc.sample(point, { numRuns: 1, seed: 10 });
    const long = { ...(one as ReducedPoint), pointId: 'P'.repeat(400_000), passThrough: ['x'.repeat(300_000)] };
    writer.add(long);
    const first = writer.take();
    const before = first.toString('utf8');
    expect(before).toBe(createCsvWriter(['a', 'b']).rows([pointCells(long)]));
    writer.add({ ...long, pointId: 'Q'.repeat(400_000) });
    writer.take();
    expect(first.toString('utf8')).toBe(before);
    expect(writer.size()).toBe(0);
  });
});
