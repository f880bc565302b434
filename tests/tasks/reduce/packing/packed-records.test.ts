import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Fix } from '../../../../src/records/points/fix.js';
import { entryAt } from '../../../../src/records/present.js';
import { createFiledRecords } from '../../../../src/tasks/reduce/packing/filed-records.js';
import { createPackedFixes } from '../../../../src/tasks/reduce/packing/fix-packing.js';
import { cellAt, derivedList, listOf, PACK, pickedList } from '../../../../src/tasks/reduce/packing/packed-records.js';
import type { PackedCell } from '../../../../src/tasks/reduce/packing/packed-records.js';

const text = fc.constantFrom('', 'a', 'b', ' ', '0', 'NaN');
const number = fc.oneof(fc.constantFrom(0, -0, 1, 0.1), fc.double({ noNaN: true }));
const orNull = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(value, { nil: null });

/** Each member is now the same in all fixes, now another; rows of another length and members left out are among them. */
const fix: fc.Arbitrary<Fix> = fc
  .record({
    pointId: text,
    code: text,
    epochMs: orNull(number),
    geodetic: fc.record({ latitudeDeg: number, longitudeDeg: number, ellipsoidalHeightM: number }),
    geocentric: orNull(fc.record({ xM: number, yM: number, zM: number })),
    referencePoint: orNull(fc.constantFrom('apc' as const, 'tip' as const)),
    solution: orNull(fc.constantFrom('fixed' as const, 'float' as const)),
    correctionAgeS: orNull(number),
    satellitesUsed: orNull(number),
    pdop: orNull(number),
    hdop: orNull(number),
    vdop: orNull(number),
    sigmaEastM: orNull(number),
    sigmaNorthM: orNull(number),
    sigmaUpM: orNull(number),
    correlationEn: orNull(number),
    baseId: orNull(text),
    poleLengthM: orNull(number),
    tiltDeg: orNull(number),
    tiltAzimuthDeg: orNull(number),
    epochCount: number,
    note: text,
    passThrough: fc.array(text, { maxLength: 3 }),
    place: fc.record({ sourceIndex: fc.nat(3), line: fc.nat() }),
    isNamed: fc.boolean(),
    stationId: orNull(text),
    separationM: orNull(number),
  })
  .map(({ isNamed, stationId, separationM, ...own }) =>
    structuredClone({
      ...own,
      ...(isNamed && { namedAfterLog: true as const }),
      ...(stationId !== null && { stationId }),
      ...(separationM !== null && { separationM }),
    }),
  );

/** A list of more than two packs from few different records. */
function repeated<T>(few: readonly T[]): readonly T[] {
  return Array.from({ length: 2 * PACK + 17 }, (_, index) => few[(index * index) % few.length] as T);
}

describe('createPackedFixes', () => {
  it('gives back every fix as it was, by its place and in turn', () => {
    fc.assert(
      fc.property(fc.array(fix, { minLength: 1, maxLength: 8 }), (few) => {
        const fixes = repeated(few);
        const packed = createPackedFixes();
        for (const own of fixes) packed.push(own);
        expect(packed.length).toBe(fixes.length);
        expect([...packed].every((own, index) => isDeepStrictEqual(own, fixes[index]))).toBe(true);
        for (const index of [0, 1, PACK - 1, PACK, 2 * PACK, fixes.length - 1])
          expect(packed.at(index)).toStrictEqual(fixes[index]);
        expect(packed.at(-1)).toBeUndefined();
        expect(packed.at(fixes.length)).toBeUndefined();
      }),
      { numRuns: 12, endOnFailure: true },
    );
  });

  it('keeps the sign of a zero beside members that are left out', () => {
    const packed = createFiledRecords<{ readonly value?: number }>({
      cells: ({ value }) => [value],
      record: (pack, row) => {
        const value = cellAt(pack, 0, row);
        return value === undefined ? {} : { value: value as number };
      },
    });
    const values = Array.from({ length: PACK }, (_, index) =>
      index % 3 === 0 ? {} : { value: index % 3 === 1 ? 0 : -0 },
    );
    for (const own of values) packed.push(own);
    expect([...packed]).toStrictEqual(values);
  });

  it('keeps texts that are alike once in a pack', () => {
    const packed = createFiledRecords<{ readonly name: string }>({
      cells: ({ name }) => [name],
      record: (pack, row) => ({ name: cellAt(pack, 0, row) as string }),
    });
    for (let index = 0; index < PACK; index += 1) packed.push({ name: `n${String(index % 2)}` });
    expect(packed.at(0)).toStrictEqual({ name: 'n0' });
    expect(packed.at(PACK - 1)).toStrictEqual({ name: 'n1' });
  });
});

describe('cells that are filed', () => {
  const cell = fc.oneof(
    fc.constantFrom(null, 0, -0, 1, 'a', 'b', '', true, undefined),
    fc.double({ noNaN: true }),
    text,
  );

  it('gives back every cell of every record, in the middle of being filled and after', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { maxLength: 5 }), { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 1, max: PACK }),
        (few, turn) => {
          const filed = createFiledRecords<readonly PackedCell[]>({
            cells: (record) => record,
            record: (pack, row) => [0, 1, 2, 3, 4].map((place) => cellAt(pack, place, row)),
          });
          const padded = (record: readonly PackedCell[]): readonly PackedCell[] =>
            [0, 1, 2, 3, 4].map((place) => record[place]);
          // Runs of one record, so that columns begin the same and change their kind later.
          const records = Array.from({ length: 2 * PACK + 7 }, (_, index) =>
            entryAt(few, Math.floor(index / turn) % few.length),
          );
          let isSame = true;
          records.forEach((record, index) => {
            filed.push(record);
            if (index % 97 !== 0) return;
            const back = index >> 1;
            isSame &&= isDeepStrictEqual(padded(filed.at(back) ?? []), padded(entryAt(records, back)));
          });
          expect(isSame).toBe(true);
          expect(filed.length).toBe(records.length);
          expect(
            [...filed].every((own, index) => isDeepStrictEqual(padded(own), padded(entryAt(records, index)))),
          ).toBe(true);
          expect([filed.at(-1), filed.at(records.length)]).toEqual([undefined, undefined]);
        },
      ),
      { numRuns: 60, endOnFailure: true },
    );
  });
});

describe('lists made of others', () => {
  const double = (value: number, index: number): string => `${String(2 * value)} at ${String(index)}`;
  const loose = [3, 5, 7, 9];
  const made = listOf(4, (index) => loose[index] as number);

  it('are the same whether the list is an array or not', () => {
    expect([...derivedList(made, double)]).toEqual([...derivedList(loose, double)]);
    expect([...pickedList(made, [2, 0])]).toEqual([7, 3]);
    expect([...pickedList(loose, Uint32Array.of(2, 0))]).toEqual([7, 3]);
    expect(derivedList(made, double).at(3)).toBe('18 at 3');
    expect(derivedList(made, double).at(4)).toBeUndefined();
  });

  it('are arrays where the list is one', () => {
    expect(Array.isArray(derivedList(loose, double))).toBe(true);
    expect(Array.isArray(derivedList(made, double))).toBe(false);
  });
});
