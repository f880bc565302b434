import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countLineEnds } from '../../../src/io/csv/csv-scan.js';

describe('countLineEnds', () => {
  it('counts LF, CR LF and CR alone, at any place in memory', () => {
    // 0x0b and 0x8a differ from a line feed by one bit.
    const unit = fc.oneof(
      { weight: 3, arbitrary: fc.constantFrom(0x0a, 0x0d, 0x0b, 0x8a) },
      { weight: 2, arbitrary: fc.integer({ min: 0, max: 255 }) },
    );
    fc.assert(
      fc.property(fc.array(unit, { maxLength: 60 }), fc.nat(5), (units, offset) => {
        const memory = Buffer.from([...Array<number>(offset).fill(0x0a), ...units, 0x0a, 0x0a]);
        const bytes = memory.subarray(offset, offset + units.length);
        expect(countLineEnds(bytes)).toBe((bytes.toString('latin1').match(/\r\n|\r|\n/gu) ?? []).length);
      }),
      { numRuns: 2000 },
    );
  });

  it('counts more than a word of counts can hold', () => {
    expect(countLineEnds(Buffer.alloc(5000, 0x0a))).toBe(5000);
    expect(countLineEnds(Buffer.alloc(5001, '\r\n'))).toBe(2501);
  });
});
