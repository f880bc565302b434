import { describe, expect, it } from 'vitest';
import { skylineAt, skylineOf } from '../../../src/core/sky/obstruction-mask.js';

const at = (azimuthDeg: number, elevationDeg: number): { azimuthDeg: number; elevationDeg: number } => ({
  azimuthDeg,
  elevationDeg,
});

describe('skylineAt', () => {
  it('is linear between two places', () => {
    const skyline = skylineOf([at(10, 0), at(50, 20)]);
    expect(skylineAt(skyline, 20)).toBeCloseTo(5, 12);
    expect(skylineAt(skyline, 50)).toBe(20);
  });

  it('goes on across north', () => {
    const skyline = skylineOf([at(350, 10), at(10, 30), at(180, 0)]);
    expect(skylineAt(skyline, 0)).toBeCloseTo(20, 12);
    expect(skylineAt(skyline, 360)).toBeCloseTo(20, 12);
    expect(skylineAt(skyline, 355)).toBeCloseTo(15, 12);
    expect(skylineAt(skyline, 5)).toBeCloseTo(25, 12);
  });

  it('is the same whatever order the places are given in, and for azimuths a turn away', () => {
    const places = [at(30, 12), at(120, 40), at(200, 5), at(290, 33)];
    const [first, second] = [
      skylineOf(places),
      skylineOf(places.toReversed().map((one) => at(one.azimuthDeg - 360, one.elevationDeg))),
    ];
    for (let azimuth = 0; azimuth < 360; azimuth += 7)
      expect(skylineAt(second, azimuth)).toBe(skylineAt(first, azimuth));
  });

  it('ends a wall at once where two places have one azimuth, and takes the higher there', () => {
    const skyline = skylineOf([at(0, 10), at(75, 45), at(75, 5), at(180, 5)]);
    expect(skylineAt(skyline, 74.999)).toBeGreaterThan(44.9);
    expect(skylineAt(skyline, 75)).toBe(45);
    expect(skylineAt(skyline, 75.001)).toBeCloseTo(5, 6);
  });

  it('stands equally high all around with one place, and hides nothing without any', () => {
    expect(skylineAt(skylineOf([at(123, 17)]), 300)).toBe(17);
    expect(skylineAt(skylineOf([]), 300)).toBe(-90);
  });
});
