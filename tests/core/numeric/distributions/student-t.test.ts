import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { studentTCdf, studentTQuantile } from '../../../../src/core/numeric/distributions/student-t.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

/** Difference from the table's value, in units of the tolerance. */
function misses(row: ReferenceRow, value: number): number {
  const expected = row.number('expected');
  const scale = row.toleranceUnit === 'relative' ? Math.abs(expected) : 1;
  return Math.abs(value - expected) / (scale * row.tolerance);
}

const rows = readReferenceTable('quantiles')
  .filter((row) => row.text('function') === 't')
  .map((row) => ({ name: row.case, row }));
const smallProbability = fc.double({ min: 1e-9, max: 0.5, noNaN: true });
const degrees = fc.oneof(fc.integer({ min: 1, max: 2000 }), fc.double({ min: 0.5, max: 500, noNaN: true }));

describe('studentTQuantile', () => {
  it.each(rows)('$name agrees with the table', ({ row }) => {
    expect(misses(row, studentTQuantile(row.number('probability'), row.number('degrees1')))).toBeLessThanOrEqual(1);
  });

  it('is undone by studentTCdf', () => {
    fc.assert(
      fc.property(smallProbability, degrees, (p, v) => {
        expect(Math.abs(studentTCdf(studentTQuantile(p, v), v) / p - 1)).toBeLessThan(1e-11);
      }),
      { seed: 3 },
    );
  });

  it('is even about the middle', () => {
    expect(studentTQuantile(0.5, 3)).toBe(0);
    expect(studentTQuantile(0.25, 3)).toBe(-studentTQuantile(0.75, 3));
  });

  it('refuses impossible probabilities and degrees', () => {
    for (const p of [0, 1, NaN]) expect(() => studentTQuantile(p, 3)).toThrow('not a probability');
    for (const v of [0, -1, NaN, Infinity]) expect(() => studentTQuantile(0.5, v)).toThrow('degrees of freedom');
  });
});

describe('studentTCdf', () => {
  it('with one degree is the Cauchy distribution', () => {
    expect(studentTCdf(Math.tan(1), 1)).toBeCloseTo(0.5 + 1 / Math.PI, 14);
    expect(studentTCdf(-1e10, 1) * Math.PI * 1e10).toBeCloseTo(1, 13);
  });

  it('is a half in the middle and goes quietly to 1', () => {
    expect(studentTCdf(0, 4)).toBe(0.5);
    expect(studentTCdf(1e200, 3)).toBe(1);
  });
});
