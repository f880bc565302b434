import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  RADIANS_PER_ARCSECOND,
  degreesToRadians,
  normaliseAzimuthDeg,
  normaliseLongitudeDeg,
  radiansToDegrees,
} from '../../../src/core/numeric/angle-units.js';

describe('angle units', () => {
  it('turns degrees to radians and back', () => {
    expect(degreesToRadians(180)).toBe(Math.PI);
    expect(radiansToDegrees(Math.PI)).toBe(180);
    expect(RADIANS_PER_ARCSECOND * 648000).toBeCloseTo(Math.PI, 15);
  });
});

describe('normaliseLongitudeDeg', () => {
  it.each([
    [180, 180],
    [-180, -180],
    [181, -179],
    [360, 0],
    [350, -10],
    [-190, 170],
    [540, 180],
    [-540, -180],
    [-181, 179],
    [725, 5],
  ])('brings %f to %f', (from, to) => {
    expect(normaliseLongitudeDeg(from)).toBe(to);
  });

  it('changes a longitude only by whole turns', () => {
    fc.assert(
      fc.property(fc.integer({ min: -2000, max: 2000 }), (degrees) => {
        const found = normaliseLongitudeDeg(degrees);
        expect(found >= -180 && found <= 180).toBe(true);
        expect(Math.abs((degrees - found) % 360)).toBe(0);
      }),
      { seed: 1 },
    );
  });
});

describe('normaliseAzimuthDeg', () => {
  it.each([
    [0, 0],
    [360, 0],
    [-90, 270],
    [359.5, 359.5],
    [725, 5],
    [-360, 0],
    [-1e-20, 0],
  ])('brings %f to %f', (from, to) => {
    expect(normaliseAzimuthDeg(from)).toBe(to);
  });

  it('never gives negative zero', () => {
    expect(Object.is(normaliseAzimuthDeg(-0), 0)).toBe(true);
    expect(Object.is(normaliseAzimuthDeg(-720), 0)).toBe(true);
  });
});
