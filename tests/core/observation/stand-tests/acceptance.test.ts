import { describe, expect, it } from 'vitest';
import { refusals, reportedHorizontalSigmaM } from '../../../../src/core/observation/stand-tests/acceptance.js';
import type { AcceptanceSettings } from '../../../../src/records/session.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { makeFix } from '../make-fix.js';

const none: AcceptanceSettings = {
  solution: ['fixed'],
  maxPdop: null,
  maxCorrectionAgeS: null,
  minSatellites: null,
  maxTiltDeg: null,
  maxBaselineM: null,
  minEpochs: null,
  minDurationS: null,
  maxSigmaHorizontalM: null,
  maxSigmaVerticalM: null,
  occupationGapS: 60,
};
const all: AcceptanceSettings = {
  ...none,
  maxPdop: 4,
  maxCorrectionAgeS: 10,
  minSatellites: 6,
  maxTiltDeg: 30,
  maxBaselineM: 60_000,
  maxSigmaHorizontalM: 0.05,
  maxSigmaVerticalM: 0.08,
};
const atLimits = makeFix({
  pdop: 4,
  correctionAgeS: 10,
  satellitesUsed: 6,
  tiltDeg: 30,
  tiltAzimuthDeg: 0,
  sigmaEastM: 0.05,
  sigmaNorthM: 0.05,
  sigmaUpM: 0.08,
});

describe('refusals', () => {
  it('accepts an epoch that stands exactly at every limit, and always with the same empty list', () => {
    expect(refusals(atLimits, all, 60_000)).toEqual([]);
    expect(refusals(atLimits, all, 60_000)).toBe(refusals(makeFix({}), none, null));
  });

  it.each([
    ['epoch-correction-age', { correctionAgeS: 10.1 }],
    ['epoch-correction-age-unknown', { correctionAgeS: null }],
    ['epoch-satellites', { satellitesUsed: 5 }],
    ['epoch-satellites-unknown', { satellitesUsed: null }],
    ['epoch-pdop', { pdop: 4.01 }],
    ['epoch-pdop-unknown', { pdop: null }],
    ['epoch-tilt', { tiltDeg: 30.1 }],
    ['epoch-sigma-horizontal', { sigmaNorthM: 0.051 }],
    ['epoch-sigma-horizontal', { correlationEn: 0.2 }],
    ['epoch-sigma-vertical', { sigmaUpM: 0.081 }],
    ['epoch-sigma-unknown', { sigmaEastM: null }],
    ['epoch-sigma-unknown', { sigmaUpM: null, sigmaNorthM: null }],
    ['epoch-not-fixed', { solution: 'float' }],
    ['epoch-not-fixed', { solution: null }],
  ] as const)('gives %s alone for %o', (code, change) => {
    expect(refusals({ ...atLimits, ...change }, all, 60_000)).toEqual([code]);
    if (code !== 'epoch-not-fixed') expect(refusals({ ...atLimits, ...change }, none, null)).toEqual([]);
  });

  it('refuses a baseline above the limit, and not one that is unknown', () => {
    expect(refusals(atLimits, all, 60_000.01)).toEqual(['epoch-baseline']);
    expect(refusals(atLimits, all, null)).toEqual([]);
  });

  it('gives every reason at once, in the same order', () => {
    expect(refusals({ ...atLimits, solution: 'float', pdop: 9, sigmaUpM: 1 }, all, 90_000)).toEqual([
      'epoch-not-fixed',
      'epoch-pdop',
      'epoch-baseline',
      'epoch-sigma-vertical',
    ]);
  });

  it('accepts the solutions listed and no others', () => {
    expect(refusals(makeFix({ solution: 'float' }), { ...none, solution: ['fixed', 'float'] }, null)).toEqual([]);
    expect(refusals(makeFix({}), { ...none, solution: [] }, null)).toEqual(['epoch-not-fixed']);
  });
});

describe('reportedHorizontalSigmaM', () => {
  for (const row of readReferenceTable('acceptance')) {
    it(`agrees with the table: ${row.case}`, () => {
      const fix = makeFix({
        sigmaEastM: row.number('sigma_east_m'),
        sigmaNorthM: row.number('sigma_north_m'),
        correlationEn: row.number('correlation_en'),
      });
      const value = reportedHorizontalSigmaM(fix) ?? NaN;
      expect(Math.abs(value - row.number('expected_m'))).toBeLessThanOrEqual(row.tolerance);
    });
  }

  it('is the larger axis of the ellipse', () => {
    expect(reportedHorizontalSigmaM(makeFix({ sigmaEastM: 0.01, sigmaNorthM: 0.02 }))).toBeCloseTo(0.02, 15);
    expect(reportedHorizontalSigmaM(makeFix({ sigmaEastM: 0.01, sigmaNorthM: 0.01, correlationEn: 1 }))).toBeCloseTo(
      0.01 * Math.SQRT2,
      15,
    );
    expect(reportedHorizontalSigmaM(makeFix({ sigmaEastM: 0.01 }))).toBeNull();
  });
});
