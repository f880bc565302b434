import { describe, expect, it } from 'vitest';
import type { CurvatureTest } from '../../../src/core/adjustment/curvature-test.js';
import type { DiagnosisInput, DiagnosisKind } from '../../../src/core/adjustment/site/site-diagnosis.js';
import type { GridSystem } from '../../../src/core/grid/systems/grid-system.js';
import { findingWords } from '../../../src/tasks/site/doubts/finding-words.js';

// Regression of the sentences; the numbers in them by hand: parts in a million, millimetres, seconds, an Earth of 6371 km.
const GRID = { name: 'the grid' } as unknown as GridSystem;
const INPUT: DiagnosisInput = {
  points: 5,
  scale: 1.000_123_456_7,
  scaleSigma: 2e-6,
  scaleIsFree: true,
  rotationDeg: 0.123_456_78,
  rotationSigmaDeg: 0.001,
  shiftEastM: 3.1234,
  shiftNorthM: -4.5678,
  shiftSigmaM: 0.01,
  planSigmas: { one: 3, two: 4 } as unknown as DiagnosisInput['planSigmas'],
  rmsM: 12.3456,
  mirroredRmsM: 0.0124,
  exchange: {
    cycles: [
      ['A', 'B'],
      ['C', 'D', 'E'],
    ],
    rmsM: 0.0126,
  },
  coordinateSigmaM: 3.4567,
  statedSigmaM: null,
  pointScaleFactor: 0.9998,
  combinedFactor: 0.9997,
  convergenceDeg: -0.234_567_8,
  convergenceRangeDeg: 0.01,
  otherZones: ['zone 1', 'zone 2'],
  height: { offsetM: 0.1236, offsetSigmaM: 0.01, slopeMmPerKm: 12.36, slopeSigmaMmPerKm: 1 } as unknown as NonNullable<
    DiagnosisInput['height']
  >,
  isCurved: true,
};
const CURVATURE = { statistic: 12.36, limit: 5.24, largestM: 0.0456 } as unknown as CurvatureTest;
const words = (kind: DiagnosisKind, own: Partial<DiagnosisInput> = {}): string =>
  findingWords({ kind, weight: 'note' }, { ...INPUT, ...own }, GRID, CURVATURE).text;

describe('what the diagnosis of a site says', () => {
  it.each<readonly [DiagnosisKind, Partial<DiagnosisInput>, string]>([
    [
      'feet',
      { scale: 3.280_833_35 },
      'the scale between the points and the control is 3.280833: one of the two is in feet',
    ],
    [
      'exchanged',
      {},
      'the control fits to 0.012 m only as a mirror image, and to 12.346 m as it is: its two axes are exchanged, or one has the wrong sign',
    ],
    [
      'names-exchanged',
      {},
      'the names of A and B, and of C → D → E → C look exchanged: put right so, the control fits to 0.013 m and not to 12.346 m',
    ],
    [
      'names-exchanged',
      { exchange: { cycles: [['A', 'B']], rmsM: 50 } },
      'the names of A and B look exchanged: put right so, the control fits to 50.000 m and not to 12.346 m, which is no survey either: more is wrong',
    ],
    ['beyond-survey', {}, 'one sigma of a coordinate is 3.457 m: no survey fits its control so badly'],
    ['beyond-scale', {}, 'the scale 1.000123457 is beyond what a projection and any height on land make of a length'],
    [
      // Three sigmas of 20 parts in a million.
      'untold-scale',
      { scaleSigma: 20e-6 },
      'the scale 1.000123457 is known to 60.0 ppm only: this control does not tell whether site lengths are grid lengths, ground lengths or others',
    ],
    [
      'curved',
      {},
      'the heights that the plane leaves follow a curved surface (12.4, limit 5.2), up to 46 mm from the plane at the control: between and beyond the control heights are worse than their sigma says',
    ],
    [
      'reversed',
      { rotationDeg: 179.987_654 },
      'the control is turned by 179.9877°: both its axes run the other way, as westings and southings given as eastings and northings',
    ],
    ['quarter-turn', { rotationDeg: 90.012_345 }, 'the site is turned by 90.0123°, close to a right angle'],
    [
      'other-zone',
      {},
      "the measured points have the control's coordinates in another grid (zone 1, zone 2): the control is in that one and not in the grid",
    ],
    [
      'wrong-base',
      {},
      'the control is the grid itself, moved by 3.123 m east and -4.568 m north: that is no site of its own but a wrong base coordinate, or another datum or epoch',
    ],
    [
      'grid-itself',
      { shiftEastM: 0.003, shiftNorthM: 0.004 },
      'the control is the grid itself: scale 1, no rotation, and 0.005 m of shift within its uncertainty',
    ],
    ['subtracted', {}, 'the site is the grid with constants added: 3.123 m east and -4.568 m north'],
    [
      'grid-scale',
      {},
      // 1/0.9997.
      'site lengths are grid lengths: scale 1.000123457, 123.5 ppm from 1 (ground lengths would need 1.000300090)',
    ],
    ['grid-scale', { combinedFactor: null }, 'site lengths are grid lengths: scale 1.000123457, 123.5 ppm from 1'],
    [
      'ground-scale',
      // 1.0001234567·0.9997 − 1 = −176.580 ppm.
      {},
      'site lengths are ground lengths: scale 1.000123457, and 1 / combined factor is 1.000300090 (-176.6 ppm apart); apply no further factor to them',
    ],
    [
      'ellipsoidal-scale',
      // 1/0.9998.
      {},
      'site lengths are lengths on the ellipsoid: scale 1.000123457, and 1 / point scale factor is 1.000200040',
    ],
    [
      'odd-scale',
      {},
      'the scale 1.000123457 is neither that of the grid (123.5 ppm from 1) nor of ground lengths (-176.6 ppm from 1 / combined factor 1.000300090)',
    ],
    [
      'odd-scale',
      { combinedFactor: null },
      'the scale 1.000123457 is neither that of the grid (123.5 ppm from 1) nor of ground lengths, as far as can be told without ellipsoidal heights',
    ],
    [
      // (1.0005·0.9998 − 1)·6371 km = 1910.7 m.
      'unconfirmed-ground',
      { scale: 1.0005 },
      'the scale 1.000500000 would be that of ground lengths at about 1911 m above the ellipsoid; without ellipsoidal heights that cannot be confirmed',
    ],
    // 0.0012° are 4.3″.
    ['grid-north', { rotationDeg: -0.0012 }, 'site north is grid north within 4.3″'],
    ['true-north', {}, 'site north is true north: rotation 0.12346°, convergence -0.23457°'],
    [
      'own-north',
      {},
      'the site has a north of its own: rotation 0.12346° (true north would be 0.23457°, grid north 0°)',
    ],
    [
      'height-shift',
      {},
      'site heights differ from measured ones by 0.124 m at the middle: another level, or the error of the geoid or of the base height',
    ],
    [
      'tilt',
      {},
      'the plane tilts by 12.4 mm a km over the measured heights: more than what geoid models usually leave',
    ],
  ])('of %s', (kind, own, text) => {
    expect(words(kind, own)).toBe(text);
  });

  it('has a hint where something is to be done, and none for what is as it should be', () => {
    const hint = (kind: DiagnosisKind): string => findingWords({ kind, weight: 'note' }, INPUT, GRID, CURVATURE).hint;
    for (const kind of ['feet', 'exchanged', 'names-exchanged', 'wrong-base', 'odd-scale', 'tilt', 'curved'] as const)
      expect(hint(kind)).not.toBe('');
    for (const kind of ['grid-itself', 'grid-scale', 'grid-north', 'true-north', 'height-shift'] as const)
      expect(hint(kind)).toBe('');
  });
});
