import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createVerticalOffsetAndSlope } from '../../../../src/core/frames/shifts/vertical-offset-and-slope.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { seededRandom } from '../../../support/seeded-random.js';

const LN02 = {
  originLatitudeDeg: 46 + 55 / 60,
  originLongitudeDeg: 8 + 11 / 60,
  offsetM: -0.245,
  inclinationLatitudeArcsec: -0.21,
  inclinationLongitudeArcsec: -0.032,
  ellipsoid: GRS80,
};

describe('vertical offset and slope, EPSG 1046', () => {
  it('gives the published height, IOGP-373-7-2 method 1046, example', () => {
    const correction = createVerticalOffsetAndSlope(LN02);
    expect(Math.abs(473 + correction(47 + 20 / 60, 9 + 40 / 60) - 472.69)).toBeLessThanOrEqual(0.0005);
    expect(correction(LN02.originLatitudeDeg, LN02.originLongitudeDeg)).toBe(-0.245);
  });

  it('rises to the north and to the east where the inclinations are positive', () => {
    const correction = createVerticalOffsetAndSlope({
      ...LN02,
      offsetM: 0,
      inclinationLatitudeArcsec: 1,
      inclinationLongitudeArcsec: 1,
    });
    expect(correction(LN02.originLatitudeDeg + 1, LN02.originLongitudeDeg)).toBeGreaterThan(0.5);
    expect(correction(LN02.originLatitudeDeg, LN02.originLongitudeDeg + 1)).toBeGreaterThan(0.3);
  });

  it('takes the short way over the 180th meridian', () => {
    const correction = createVerticalOffsetAndSlope({ ...LN02, originLongitudeDeg: 179.5 });
    expect(correction(46, -179.5)).toBeCloseTo(correction(46, 180.5), 12);
    expect(Math.abs(correction(46, -179.5))).toBeLessThan(1);
  });

  it.skipIf(!hasProgram('cct'))(
    'agrees with cct on a thousand random points to 0.01 mm (skipped where cct is absent)',
    () => {
      const random = seededRandom(13);
      const correction = createVerticalOffsetAndSlope(LN02);
      const points = Array.from({ length: 1000 }, () => ({
        latitude: random.between(45.5, 48),
        longitude: random.between(5.5, 10.8),
        height: random.between(0, 4000),
      }));
      const input = `${points.map((p) => `${p.longitude.toFixed(12)} ${p.latitude.toFixed(12)} ${p.height.toFixed(9)} 0`).join('\n')}\n`;
      const args = [
        '-d',
        '9',
        '+proj=vertoffset',
        `+lat_0=${String(LN02.originLatitudeDeg)}`,
        `+lon_0=${String(LN02.originLongitudeDeg)}`,
        '+dh=-0.245',
        '+slope_lat=-0.21',
        '+slope_lon=-0.032',
        '+ellps=GRS80',
      ];
      const forward = runProgram('cct', args, input).map((line) => numbersOf(line)[2] ?? NaN);
      const inverse = runProgram('cct', ['-I', ...args], input).map((line) => numbersOf(line)[2] ?? NaN);
      expect(
        Math.max(
          ...points.map((p, i) => Math.abs(p.height + correction(p.latitude, p.longitude) - (forward[i] ?? NaN))),
        ),
      ).toBeLessThan(1e-5);
      expect(
        Math.max(
          ...points.map((p, i) => Math.abs(p.height - correction(p.latitude, p.longitude) - (inverse[i] ?? NaN))),
        ),
      ).toBeLessThan(1e-5);
    },
  );
});
