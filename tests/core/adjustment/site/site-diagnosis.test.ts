import { describe, expect, it } from 'vitest';
import { impliedHeightM, siteDiagnosis } from '../../../../src/core/adjustment/site/site-diagnosis.js';
import { diagnosisSigmas } from '../../../../src/core/adjustment/site/site-levels.js';
import type { DiagnosisInput } from '../../../../src/core/adjustment/site/site-diagnosis.js';

/** A fit of the grid to itself, 180 km from the central meridian at 1000 m. */
const PLAIN: DiagnosisInput = {
  points: 6,
  scale: 1,
  scaleSigma: 2e-6,
  scaleIsFree: true,
  rotationDeg: 0,
  rotationSigmaDeg: 0.0002,
  shiftEastM: 0.003,
  shiftNorthM: -0.002,
  planSigmas: diagnosisSigmas(null),
  shiftSigmaM: 0.006,
  rmsM: 0.008,
  mirroredRmsM: 1500,
  pointScaleFactor: 1.0004,
  combinedFactor: 1.00024,
  convergenceDeg: -1.05,
  convergenceRangeDeg: 0.01,
  otherZones: [],
  height: null,
  isCurved: false,
  exchange: null,
  coordinateSigmaM: 0.01,
  statedSigmaM: null,
};

const kinds = (change: Partial<DiagnosisInput>): readonly string[] =>
  siteDiagnosis({ ...PLAIN, ...change }).map((finding) => `${finding.weight} ${finding.kind}`);

describe('siteDiagnosis', () => {
  it('says that control in the grid itself is that', () => {
    expect(kinds({})).toEqual(['note grid-itself', 'note grid-scale', 'note grid-north']);
  });

  it('names a wrong base, another datum or epoch where only a shift is left', () => {
    expect(kinds({ shiftEastM: 1.4, shiftNorthM: -2 })[0]).toBe('suspect wrong-base');
    expect(kinds({ shiftEastM: 0.09 })[0]).toBe('suspect wrong-base');
  });

  it('takes a large shift for constants left off the coordinates', () => {
    expect(kinds({ shiftNorthM: -3_000_000 })[0]).toBe('note subtracted');
  });

  it('names ground, ellipsoidal and grid lengths by the scale, and a scale that is none of them', () => {
    expect(kinds({ scale: 1 / 1.00024 })).toContain('note ground-scale');
    expect(kinds({ scale: 1 / 1.0004 })).toContain('note ellipsoidal-scale');
    expect(kinds({ scale: 1.00015 })[0]).toBe('suspect odd-scale');
    expect(kinds({ scale: 1 + 9e-6 })).toContain('note grid-scale');
  });

  it('names the nearer of grid and ground where both would do', () => {
    expect(kinds({ combinedFactor: 1 - 6e-6, pointScaleFactor: 1, scale: 1 + 5e-6 })).toContain('note ground-scale');
    expect(kinds({ combinedFactor: 1 - 6e-6, pointScaleFactor: 1, scale: 1 + 1e-6 })).toContain('note grid-scale');
  });

  it('says at which height lengths would be ground lengths where heights are not known', () => {
    const change = { scale: 1 / 1.0004 + 0.00017, combinedFactor: null };
    expect(kinds(change)).toContain('note unconfirmed-ground');
    expect(impliedHeightM({ ...PLAIN, ...change })).toBeCloseTo(0.00017 * 1.0004 * 6_371_000, 3);
    expect(kinds({ scale: 1.002, combinedFactor: null })[0]).toBe('suspect odd-scale');
  });

  it('tells true north from a north of its own by the convergence', () => {
    expect(kinds({ rotationDeg: 1.053, scale: 1 / 1.00024 })).toContain('note true-north');
    expect(kinds({ rotationDeg: -1.053, scale: 1 / 1.00024 })).toContain('note own-north');
    expect(kinds({ rotationDeg: 0.0004 })).toContain('note grid-north');
  });

  it('names another zone and nothing that would follow from it', () => {
    expect(
      kinds({ otherZones: ['central meridian 23°'], rotationDeg: 1, scale: 1.0003, shiftEastM: -190_000 }),
    ).toEqual(['suspect other-zone']);
  });

  it('takes two exchanged names for that, though the fit has the scale of a foot or half a turn by chance', () => {
    const exchange = { cycles: [['A', 'B']], rmsM: 0.02 };
    for (const chance of [{ scale: 0.304562 }, { rotationDeg: 180 }, { rotationDeg: 90 }])
      expect(kinds({ ...chance, rmsM: 300, exchange })).toEqual(['suspect names-exchanged']);
  });

  it('refuses feet, exchanged axes and axes that run the other way', () => {
    expect(kinds({ scale: 3.2808 })).toEqual(['error feet']);
    expect(kinds({ scale: 0.3049 })).toEqual(['error feet']);
    expect(kinds({ rmsM: 1600, mirroredRmsM: 0.01 })).toEqual(['error exchanged']);
    expect(kinds({ rotationDeg: -179.9 })).toEqual(['error reversed']);
    expect(kinds({ rotationDeg: 90.1 })).toEqual(['suspect quarter-turn']);
  });

  it('does not call two points exchanged, which any mirror image fits', () => {
    expect(kinds({ points: 2, rmsM: 1600, mirroredRmsM: 0 })[0]).not.toBe('error exchanged');
  });

  it('says nothing of a scale that was stated', () => {
    expect(kinds({ scaleIsFree: false, scale: 1.02 }).some((kind) => kind.includes('scale'))).toBe(false);
  });

  it('doubts a plane that is steep beyond its uncertainty, and notes a level of its own', () => {
    const height = {
      offsetM: 0.02,
      offsetSigmaM: 0.01,
      slopeMmPerKm: 25,
      slopeSigmaMmPerKm: 4,
      sigmas: diagnosisSigmas(null),
    };
    expect(kinds({ height })).toContain('suspect tilt');
    expect(kinds({ height: { ...height, slopeSigmaMmPerKm: 9, sigmas: diagnosisSigmas(null) } })).not.toContain(
      'suspect tilt',
    );
    expect(kinds({ height: { ...height, offsetM: 0.4, slopeMmPerKm: 2 } })).toContain('note height-shift');
  });

  it('takes the point scale factor for 1 where it is not known', () => {
    expect(impliedHeightM({ scale: 1.0001, pointScaleFactor: null })).toBeCloseTo(637.1, 6);
    expect(impliedHeightM({ scale: 1.0001, pointScaleFactor: null })).toBe(
      impliedHeightM({ scale: 1.0001, pointScaleFactor: 1 }),
    );
  });
});
