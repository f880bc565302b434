import { describe, expect, it } from 'vitest';
import { normalQuantile } from '../../../../src/core/numeric/distributions/normal-quantile.js';
import { tauCritical, tauCriticalOfTwo } from '../../../../src/core/numeric/distributions/tau-critical.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

const rows = readReferenceTable('quantiles')
  .filter((row) => row.text('function') === 'tau')
  .map((row) => ({ name: row.case, row }));

describe('tauCritical', () => {
  it.each(rows)('$name agrees with the table', ({ row }) => {
    const found = tauCritical(row.number('degrees1'), row.number('degrees2'), row.number('probability'));
    expect(Math.abs(found - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
  });

  it('stays below the root of the redundancy, and comes near it when little is redundant', () => {
    expect(tauCritical(3, 2, 0.05)).toBeLessThan(Math.SQRT2);
    expect(tauCritical(3, 2, 0.05)).toBeGreaterThan(1.41);
  });

  it('comes near the normal quantile when much is redundant', () => {
    expect(tauCritical(10, 1e6, 0.05)).toBeCloseTo(normalQuantile(1 - 0.0025), 4);
  });

  it('refuses a test without residuals or redundancy', () => {
    expect(() => tauCritical(3, 1, 0.05)).toThrow('redundancy');
    expect(() => tauCritical(0, 5, 0.05)).toThrow('redundancy');
  });

  it('takes a single residual', () => {
    // Of one residual the level is not shared: with much redundant it is the two-sided normal quantile.
    expect(tauCritical(1, 1e6, 0.05)).toBeCloseTo(normalQuantile(0.975), 4);
  });
});

describe('tauCriticalOfTwo', () => {
  // SciPy 1.x: sqrt(nu * beta.ppf(1 - alpha / n, 1, (nu - 2) / 2)).
  it('is the quantile of the beta distribution that the loss follows, and nothing where nothing is left', () => {
    expect(tauCriticalOfTwo(6, 8, 0.004)).toBeCloseTo(2.7020613664776283, 10);
    expect(tauCriticalOfTwo(10, 16, 0.008)).toBeCloseTo(3.1973386964434005, 10);
    expect(tauCriticalOfTwo(3, 2, 0.01)).toBeNull();
  });
});
