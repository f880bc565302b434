import { describe, expect, it } from 'vitest';
import { wilsonInterval } from '../../../src/core/corrections/wilson-interval.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

describe('wilsonInterval', () => {
  for (const row of readReferenceTable('wilson'))
    it(`gives the interval of ${row.case}`, () => {
      const { low, high } = wilsonInterval(row.number('count'), row.number('of'));
      expect(Math.abs(low - row.number('low'))).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(high - row.number('high'))).toBeLessThanOrEqual(row.tolerance);
    });

  it('stays within 0 and 1 and holds the share, of all counts to 60', () => {
    for (let of = 1; of <= 60; of += 1)
      for (let count = 0; count <= of; count += 1) {
        const { low, high } = wilsonInterval(count, of);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(low).toBeLessThanOrEqual(count / of + 1e-12);
        expect(high).toBeGreaterThanOrEqual(count / of - 1e-12);
      }
  });
});
