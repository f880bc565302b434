import fc from 'fast-check';
import { snappyUncompress } from 'hyparquet';
import { describe, expect, it } from 'vitest';
import { faultOfPages } from '../../../src/io/parquet/parquet-pages.js';
import { faultOfRuns } from '../../../src/io/parquet/parquet-runs.js';
import type { ColumnOfRuns, PageOfRuns } from '../../../src/io/parquet/parquet-runs.js';
import { snappyUnpacked } from '../../../src/io/parquet/snappy-unpack.js';

/** A literal and copies of it, by the description of the format: "abcd", then ten bytes from four back, then three from one back. */
const PACKED = Uint8Array.of(17, (4 - 1) << 2, 97, 98, 99, 100, ((10 - 4) << 2) | 1, 4, ((3 - 1) << 2) | 2, 1, 0);

describe('Snappy', () => {
  it('is unpacked as its description says, and as the package unpacks it', () => {
    expect(Buffer.from(snappyUnpacked(PACKED, 17)).toString()).toBe('abcdabcdabcdabbbb');
    const other = new Uint8Array(17);
    snappyUncompress(PACKED, other);
    expect(snappyUnpacked(PACKED, 17)).toEqual(other);
    const long = 'x'.repeat(1000);
    const literal = Buffer.concat([Buffer.from([0xe8, 0x07, 61 << 2, 0xe7, 0x03]), Buffer.from(long)]);
    expect(Buffer.from(snappyUnpacked(literal, 1000)).toString()).toBe(long);
  });

  it.each([
    ['of another length', PACKED, 16, 'of 17 bytes in a page of 16'],
    ['without a length', Uint8Array.of(0x80), 1, 'without its length'],
    ['that ends within a literal', PACKED.subarray(0, 4), 17, 'ends within an element'],
    ['that ends within an offset', PACKED.subarray(0, 9), 17, 'ends within an element'],
    ['that ends too soon', PACKED.subarray(0, 6), 17, 'of fewer bytes'],
    ['of more bytes', Uint8Array.of(3, 12, 97, 98, 99, 100), 3, 'of more bytes'],
    ['that copies from before its start', Uint8Array.of(8, 0, 97, 14, 9, 0), 8, 'what is not there'],
    // Its length of four bytes is negative as one of 32 bits: it would lead back, again and again.
    ['with a literal that leads back', Uint8Array.of(9, 63 << 2, 0xf8, 0xff, 0xff, 0xff, 1, 1, 1), 9, 'of more bytes'],
  ])('is refused %s', (_what, packed, bytes, message) => {
    expect(() => snappyUnpacked(packed, bytes)).toThrow(message);
  });

  it('is what it was, or refused, whatever is changed in it', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), fc.integer({ min: 0, max: 200 }), (packed, bytes) => {
        try {
          expect(snappyUnpacked(packed, bytes)).toHaveLength(bytes);
        } catch (error) {
          expect(String(error)).toContain('Snappy');
        }
      }),
      { numRuns: 2000, seed: 7 },
    );
  });
});

/** A whole number in the compact protocol. */
function varint(value: number): number[] {
  return value < 128 ? [value] : [(value % 128) | 128, ...varint(Math.floor(value / 128))];
}
const number = (value: number): number[] => varint(value < 0 ? -2 * value - 1 : 2 * value);

/** A page: its header (type, bytes unpacked, bytes packed, values), and so many bytes. */
function page(type: 'data' | 'data-v2' | 'dictionary', unpacked: number, packed: number, values: number): number[] {
  const kinds = { data: [0, 5], 'data-v2': [3, 8], dictionary: [2, 7] } as const;
  const [code, field] = kinds[type];
  const own = [0x15, ...number(values), 0x15, ...number(0), 0];
  const head = [0x15, ...number(code), 0x15, ...number(unpacked), 0x15, ...number(packed)];
  return [...head, ((field - 3) << 4) | 12, ...own, 0, ...Array.from({ length: Math.max(0, packed) }, () => 7)];
}
const REQUIRED = { isOptional: false, isBoolean: false, unpack: (input: Uint8Array) => input };
const OPTIONAL = { ...REQUIRED, isOptional: true };
const faultOf = (bytes: readonly number[], rows: number, unpackedBytes = 1000): string | null =>
  faultOfPages({ bytes: Uint8Array.from(bytes), rows, unpackedBytes, ...REQUIRED });

describe('pages of a column', () => {
  it('may be of either version, after a dictionary', () => {
    const dictionary = page('dictionary', 20, 12, 5);
    expect(faultOf([...dictionary, ...page('data', 9, 9, 6), ...page('data-v2', 9, 9, 4)], 10)).toBeNull();
  });

  it.each([
    ['more values than rows', page('data', 9, 9, 11), 'pages of 11 values in a group of 10 rows'],
    ['a thousand million values', page('data', 9, 9, 1e9), 'values in a group of 10 rows'],
    ['a negative number of values', page('data-v2', 9, 9, -1), 'a page of -1 values'],
    ['a dictionary beyond its bytes', page('dictionary', 20, 12, 21), 'a dictionary of 21 values in 20 bytes'],
    ['bytes that are not there', page('data', 9, 9, 5).slice(0, -1), 'which its column has not'],
    ['a negative number of bytes', page('data', 9, -9, 5), 'which its column has not'],
    ['bytes beyond those of the column', page('data', 5000, 9, 5), 'in a column of 1000'],
    ['no header', [0x15, 0x80], 'is none'],
    ['a header that goes on within itself', Array.from({ length: 60 }, () => 0x1c), 'is none'],
    ['a list without an end', [0x19, 0xf5, 0xff, 0xff, 0xff, 0xff, 0x0f], 'is none'],
  ])('are refused with %s', (_what, bytes, message) => {
    expect(faultOf(bytes, 10)).toContain(message);
  });
});

// By the description of the format: a run is its length times two and its value; groups of eight, their number times two and one, the lowest
// bit first. The eight numbers 0 to 7 of three bits are its own example (Encodings.md).
const run = (count: number, ...value: readonly number[]): number[] => [...varint(2 * count), ...value];
const EIGHT = [(1 << 1) | 1, 0b10001000, 0b11000110, 0b11111010];
const withLength = (runs: readonly number[]): number[] => [runs.length, 0, 0, 0, ...runs];
const first = (values: number, encoding = 8): PageOfRuns => ({ values, encoding, second: null });
const second = (values: number, levelBytes: number, nulls: number): PageOfRuns => ({
  ...{ values, encoding: 8 },
  second: { levelBytes, nulls, isPacked: false },
});
const faultIn = (bytes: readonly number[], page: PageOfRuns, column: ColumnOfRuns = REQUIRED): string | null =>
  faultOfRuns(Uint8Array.from(bytes), bytes.length, page, column);

describe('runs of values in a page', () => {
  it('may be of one value, in groups of eight, of values that are there and of true and false', () => {
    expect(faultIn([3, ...EIGHT], first(8))).toBeNull();
    expect(faultIn([3, ...EIGHT], first(5))).toBeNull();
    expect(faultIn([9, ...run(7, 1, 1), ...run(1000, 2, 0)], first(1007))).toBeNull();
    expect(faultIn([0], first(1e6))).toBeNull();
    // Of ten rows seven have a value: three of a run of 1, and four of the bits 0b1111.
    const levels = withLength([...run(3, 1), ...run(3, 0), (1 << 1) | 1, 0b1111]);
    expect(faultIn([...levels, 3, ...run(7, 5)], first(10), OPTIONAL)).toBeNull();
    expect(faultIn(withLength(run(10, 1)), first(10, 3), { ...REQUIRED, isBoolean: true })).toBeNull();
    const own = run(6, 1);
    expect(faultIn([...own, ...run(4, 0), 3, ...run(6, 5)], second(10, own.length + 2, 4), OPTIONAL)).toBeNull();
    expect(faultIn([], first(0), OPTIONAL)).toBeNull();
  });

  it.each([
    ['longer than the page', [3, ...run(11, 5)], first(10), REQUIRED, 'a run of 11 values where 10 are left'],
    ['of a thousand million values', [3, ...run(1e9, 5)], first(10), REQUIRED, 'a run of 1000000000 values'],
    ['of as many groups', [3, ...varint(2 * 1e9 + 1), 5], first(10), REQUIRED, 'a run of 8000000000 values'],
    ['longer than what is left', [3, ...run(7, 5), ...run(4, 5)], first(10), REQUIRED, 'where 3 are left'],
    ['that end too soon', [3, ...run(7, 5)], first(10), REQUIRED, 'runs of 7 values where 10 are said'],
    ['with a length that does not end', [3, 0x80, 0x80], first(10), REQUIRED, 'runs of 0 values'],
    ['of numbers too wide', [33, ...run(10, 5)], first(10), REQUIRED, 'numbers of 33 bits'],
    ['without their width', [], first(10), REQUIRED, 'numbers of 33 bits'],
    ['of levels beyond the rows', withLength(run(1e9, 1)), first(10), OPTIONAL, 'a run of 1000000000 values'],
    ['of levels beyond the page', [9, 0, 0, 0, 20, 1], first(10), OPTIONAL, 'runs up to byte 13 of 6'],
    ['of levels without their length', [9, 0, 0], first(10), OPTIONAL, 'runs up to byte NaN of 3'],
    [
      'of more than has values',
      [...withLength([...run(6, 1), ...run(4, 0)]), 3, ...run(7, 5)],
      first(10),
      OPTIONAL,
      'a run of 7 values where 6 are left',
    ],
    ['of true and false', withLength(run(11, 1)), first(10, 3), { ...REQUIRED, isBoolean: true }, 'a run of 11 values'],
    [
      'of another number of empty values',
      [...run(10, 1), 3, ...run(10, 5)],
      second(10, 2, 4),
      OPTIONAL,
      '0 empty values where 4 are said',
    ],
    ['after levels that are not there', [20, 1], second(10, 5, 0), OPTIONAL, 'levels of 5 bytes'],
    ['of no bits', [...run(10, 1), 0, ...run(1e9)], second(10, 2, 0), OPTIONAL, 'a run of 1000000000 values'],
  ])('are refused %s', (_what, bytes, page, column, message) => {
    expect(faultIn(bytes, page, column)).toContain(message);
  });
});
