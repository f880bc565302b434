import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalCdf, normalQuantile } from '../../../../src/core/numeric/distributions/normal-quantile.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

/** Difference from the table's value, in units of the tolerance. */
function misses(row: ReferenceRow, value: number): number {
  const expected = row.number('expected');
  const scale = row.toleranceUnit === 'relative' ? Math.abs(expected) : 1;
  return Math.abs(value - expected) / (scale * row.tolerance);
}

const rows = readReferenceTable('quantiles')
  .filter((row) => row.text('function') === 'normal')
  .map((row) => ({ name: row.case, row }));
const smallProbability = fc.double({ min: 1e-9, max: 0.5, noNaN: true });

describe('normalQuantile', () => {
  it.each(rows)('$name agrees with the table', ({ row }) => {
    expect(misses(row, normalQuantile(row.number('probability')))).toBeLessThanOrEqual(1);
  });

  it('is undone by normalCdf to a part in 10^12', () => {
    fc.assert(
      fc.property(smallProbability, (p) => {
        expect(Math.abs(normalCdf(normalQuantile(p)) / p - 1)).toBeLessThan(1e-12);
      }),
      { seed: 1 },
    );
  });

  it('is even about the middle', () => {
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(0.25)).toBe(-normalQuantile(0.75));
  });

  it('refuses probabilities that have no finite quantile', () => {
    for (const p of [0, 1, -0.1, 1.1, NaN]) expect(() => normalQuantile(p)).toThrow('not a probability');
  });
});

describe('normalCdf', () => {
  it('is a half in the middle and goes quietly to 0 and 1', () => {
    expect(normalCdf(0)).toBe(0.5);
    expect(normalCdf(-40)).toBe(0);
    expect(normalCdf(40)).toBe(1);
  });
});
