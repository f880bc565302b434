import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fQuantile, fUpperTail } from '../../../../src/core/numeric/distributions/f-distribution.js';
import { incompleteBeta } from '../../../../src/core/numeric/distributions/incomplete-beta.js';
import { studentTQuantile } from '../../../../src/core/numeric/distributions/student-t.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

/** Difference from the table's value, in units of the tolerance. */
function misses(row: ReferenceRow, value: number): number {
  const expected = row.number('expected');
  const scale = row.toleranceUnit === 'relative' ? Math.abs(expected) : 1;
  return Math.abs(value - expected) / (scale * row.tolerance);
}

const rows = readReferenceTable('quantiles')
  .filter((row) => row.text('function') === 'f')
  .map((row) => ({ name: row.case, row }));
const smallProbability = fc.double({ min: 1e-9, max: 0.5, noNaN: true });
const degrees = fc.oneof(fc.integer({ min: 1, max: 2000 }), fc.double({ min: 0.5, max: 500, noNaN: true }));

describe('fQuantile', () => {
  it.each(rows)('$name agrees with the table', ({ row }) => {
    const found = fQuantile(row.number('probability'), row.number('degrees1'), row.number('degrees2'));
    expect(misses(row, found)).toBeLessThanOrEqual(1);
  });

  it('is undone by both tails, each to its own last digits where it is small', () => {
    fc.assert(
      fc.property(smallProbability, degrees, degrees, (p, v, w) => {
        const ratio = (v * fQuantile(p, v, w)) / w;
        expect(Math.abs(incompleteBeta(v / 2, w / 2, ratio / (1 + ratio), 1 / (1 + ratio)).lower / p - 1)).toBeLessThan(
          1e-10,
        );
        expect(Math.abs(fUpperTail(fQuantile(1 - p, v, w), v, w) / (1 - (1 - p)) - 1)).toBeLessThan(1e-9);
      }),
      { seed: 4 },
    );
  });

  it('with one upper degree is a squared t', () => {
    for (const v of [1, 4, 28, 300]) expect(studentTQuantile(0.975, v) ** 2 / fQuantile(0.95, 1, v)).toBeCloseTo(1, 12);
  });

  it('exchanges its degrees when turned over', () => {
    expect(fQuantile(0.975, 7, 19) * fQuantile(0.025, 19, 7)).toBeCloseTo(1, 12);
  });

  it('refuses impossible probabilities and degrees', () => {
    for (const p of [0, 1, NaN]) expect(() => fQuantile(p, 3, 3)).toThrow('not a probability');
    for (const v of [0, -1, NaN, Infinity]) {
      expect(() => fQuantile(0.5, 3, v)).toThrow('degrees of freedom');
      expect(() => fUpperTail(1, v, 3)).toThrow('degrees of freedom');
    }
  });
});

describe('fUpperTail', () => {
  it('with two and two degrees is 1 / (1 + f)', () => {
    expect(fUpperTail(3, 2, 2)).toBeCloseTo(0.25, 14);
  });

  it('is all at and below zero and nothing far out', () => {
    expect(fUpperTail(0, 4, 5)).toBe(1);
    expect(fUpperTail(-1, 4, 5)).toBe(1);
    expect(fUpperTail(-3, 2, 2)).toBe(1);
    expect(fUpperTail(1e300, 2, 3)).toBeLessThan(1e-300);
  });
});
