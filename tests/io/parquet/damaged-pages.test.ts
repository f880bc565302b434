import fc from 'fast-check';
import { snappyUncompress } from 'hyparquet';
import { describe, expect, it } from 'vitest';
import { faultOfPages } from '../../../src/io/parquet/parquet-pages.js';
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
const faultOf = (bytes: readonly number[], rows: number, unpackedBytes = 1000): string | null =>
  faultOfPages({ bytes: Uint8Array.from(bytes), rows, unpackedBytes });

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
