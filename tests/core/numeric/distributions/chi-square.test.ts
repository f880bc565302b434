import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chiSquareQuantile, chiSquareUpperTail } from '../../../../src/core/numeric/distributions/chi-square.js';
import { incompleteGamma } from '../../../../src/core/numeric/distributions/incomplete-gamma.js';
import { normalQuantile } from '../../../../src/core/numeric/distributions/normal-quantile.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

/** Difference from the table's value, in units of the tolerance. */
function misses(row: ReferenceRow, value: number): number {
  const expected = row.number('expected');
  const scale = row.toleranceUnit === 'relative' ? Math.abs(expected) : 1;
  return Math.abs(value - expected) / (scale * row.tolerance);
}

const rows = readReferenceTable('quantiles')
  .filter((row) => ['chi2', 'circle', 'sphere'].includes(row.text('function')))
  .map((row) => ({ name: row.case, row }));
const smallProbability = fc.double({ min: 1e-9, max: 0.5, noNaN: true });
const degrees = fc.oneof(fc.integer({ min: 1, max: 2000 }), fc.double({ min: 0.5, max: 500, noNaN: true }));

describe('chiSquareQuantile', () => {
  it.each(rows)('$name agrees with the table', ({ row }) => {
    const p = row.number('probability');
    const found =
      row.text('function') === 'chi2'
        ? chiSquareQuantile(p, row.number('degrees1'))
        : Math.sqrt(chiSquareQuantile(p, row.text('function') === 'circle' ? 2 : 3));
    expect(misses(row, found)).toBeLessThanOrEqual(1);
  });

  it('is undone by both tails, each to its own last digits where it is small', () => {
    fc.assert(
      fc.property(smallProbability, degrees, (p, v) => {
        expect(Math.abs(incompleteGamma(v / 2, chiSquareQuantile(p, v) / 2).lower / p - 1)).toBeLessThan(1e-11);
        expect(Math.abs(chiSquareUpperTail(chiSquareQuantile(1 - p, v), v) / (1 - (1 - p)) - 1)).toBeLessThan(1e-10);
      }),
      { seed: 2 },
    );
  });

  it('with one degree is a squared normal value', () => {
    expect(normalQuantile(0.975) ** 2 / chiSquareQuantile(0.95, 1)).toBeCloseTo(1, 12);
  });

  it('refuses impossible probabilities and degrees', () => {
    for (const p of [0, 1, NaN]) expect(() => chiSquareQuantile(p, 3)).toThrow('not a probability');
    for (const v of [0, -1, NaN, Infinity]) expect(() => chiSquareQuantile(0.5, v)).toThrow('degrees of freedom');
  });
});

describe('chiSquareUpperTail', () => {
  it('with two degrees is the exponential distribution', () => {
    expect(chiSquareUpperTail(3, 2)).toBeCloseTo(Math.exp(-1.5), 14);
    expect(chiSquareUpperTail(60, 2) / Math.exp(-30)).toBeCloseTo(1, 13);
  });

  it('is all at and below zero and nothing far out', () => {
    expect(chiSquareUpperTail(-1, 4)).toBe(1);
    expect(chiSquareUpperTail(0, 4)).toBe(1);
    expect(chiSquareUpperTail(1e5, 3)).toBe(0);
  });
});
