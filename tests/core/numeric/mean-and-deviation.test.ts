import { describe, expect, it } from 'vitest';
import { meanAndDeviation } from '../../../src/core/numeric/mean-and-deviation.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const rows = readReferenceTable('statistics').map((row) => ({ name: row.case, row }));

describe('certified means and standard deviations', () => {
  it.each(rows)('$name', ({ row }) => {
    const values = [...row.numbers('values')];
    for (let i = 0; i < row.number('pairs'); i += 1) values.push(...row.numbers('pair'));
    const found = meanAndDeviation(values);
    const mean = row.number('mean');
    const deviation = row.number('standard_deviation');
    expect(found.count).toBe(values.length);
    expect(Math.abs(found.mean / mean - 1)).toBeLessThanOrEqual(1e-15);
    expect(Math.abs((found.standardDeviation ?? NaN) / deviation - 1)).toBeLessThanOrEqual(row.tolerance);
  });
});

describe('meanAndDeviation', () => {
  it('gives a single value no deviation', () => {
    expect(meanAndDeviation([4.25])).toEqual({ count: 1, mean: 4.25, standardDeviation: null });
  });

  it('gives equal values a deviation of exactly 0', () => {
    expect(meanAndDeviation([0.1, 0.1, 0.1]).standardDeviation).toBe(0);
  });

  it('keeps a millimetre beside a geocentric coordinate', () => {
    const found = meanAndDeviation([5124304.349, 5124304.35, 5124304.351]);
    expect(found.standardDeviation).toBeCloseTo(0.001, 8);
  });

  it('refuses no values', () => {
    expect(() => meanAndDeviation([])).toThrow('no values');
  });
});
