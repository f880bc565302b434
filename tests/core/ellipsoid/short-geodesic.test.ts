import geographiclib from 'geographiclib-geodesic';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BESSEL_1841, CLARKE_1880_ARC, GRS80, WGS84, ellipsoidFrom } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createShortGeodesic } from '../../../src/core/ellipsoid/short-geodesic.js';
import type { ShortLine } from '../../../src/core/ellipsoid/short-geodesic.js';
import { normaliseLongitudeDeg } from '../../../src/core/numeric/angle-units.js';

/** Positions in double degrees are good to about 2 nm, and both sides start from them. */
const NEAR_M = 5e-9;

function emptyLine(): ShortLine {
  return { distanceM: NaN, azimuthDeg: NaN, reverseAzimuthDeg: NaN };
}

/** Sideways, metres, at the end of a line by which two azimuths differ. */
function sidewaysM(oneDeg: number, otherDeg: number, distanceM: number): number {
  return (Math.abs(normaliseLongitudeDeg(oneDeg - otherDeg)) * Math.PI * distanceM) / 180;
}

describe('short geodesics', () => {
  const latitude = fc.double({ min: -90, max: 90, noNaN: true });
  const longitude = fc.double({ min: -180, max: 180, noNaN: true });
  // Differences of every size, from nothing to the most.
  const difference = fc
    .tuple(fc.double({ min: -2, max: 2, noNaN: true }), fc.integer({ min: 0, max: 9 }))
    .map(([share, power]) => share * 10 ** -power);
  const ellipsoid = fc.constantFrom(WGS84, GRS80, BESSEL_1841, CLARKE_1880_ARC, ellipsoidFrom('sphere', 6371000, 0));

  it('are those of a solver for any line, to nanometres', () => {
    fc.assert(
      fc.property(ellipsoid, latitude, longitude, difference, difference, (on, latitude1, longitude1, north, east) => {
        const latitude2 = Math.min(90, Math.max(-90, latitude1 + north));
        const longitude2 = longitude1 + east;
        const line = emptyLine();
        const found = createShortGeodesic(on)(latitude1, longitude1, latitude2, longitude2, line);
        fc.pre(Math.abs(latitude2 - latitude1) <= 2 && Math.abs(longitude2 - longitude1) <= 2);
        expect(found).toBe(true);
        const any = new geographiclib.Geodesic.Geodesic(on.semiMajorAxisM, on.flattening).Inverse(
          latitude1,
          longitude1,
          latitude2,
          longitude2,
        );
        const distanceM = any.s12 as number;
        expect(Math.abs(line.distanceM - distanceM)).toBeLessThan(NEAR_M);
        if (distanceM < 1e-4) return;
        expect(sidewaysM(line.azimuthDeg, any.azi1 as number, distanceM)).toBeLessThan(NEAR_M);
        expect(sidewaysM(line.reverseAzimuthDeg, (any.azi2 as number) + 180, distanceM)).toBeLessThan(NEAR_M);
      }),
      { numRuns: 5000 },
    );
  });

  // Independent: chord and direction between the two places in forty-digit arithmetic (mpmath), chord to arc by c³/24R².
  it.each([
    [37.757540000000006, -122.47018, 37.75754, -122.470177, 0.2643625533139407, 89.99999925244245],
    [54.1589, 15.3872, 54.1591, 15.3877, 39.52768638671147, 55.72311035422565],
  ])(
    'keep the digits of a line of metres: %d, %d to %d, %d',
    (latitude1, longitude1, latitude2, longitude2, distanceM, azimuthDeg) => {
      const line = emptyLine();
      expect(createShortGeodesic(WGS84)(latitude1, longitude1, latitude2, longitude2, line)).toBe(true);
      expect(Math.abs(line.distanceM - distanceM)).toBeLessThan(1e-11);
      expect(sidewaysM(line.azimuthDeg, azimuthDeg, distanceM)).toBeLessThan(1e-11);
    },
  );

  it('are as long one way as the other', () => {
    fc.assert(
      fc.property(latitude, longitude, difference, difference, (latitude1, longitude1, north, east) => {
        const latitude2 = Math.min(90, Math.max(-90, latitude1 + north));
        const there = emptyLine();
        const back = emptyLine();
        const solve = createShortGeodesic(WGS84);
        fc.pre(solve(latitude1, longitude1, latitude2, longitude1 + east, there));
        expect(solve(latitude2, longitude1 + east, latitude1, longitude1, back)).toBe(true);
        expect(Math.abs(there.distanceM - back.distanceM)).toBeLessThan(1e-9);
      }),
    );
  });

  it('go across the 180th meridian, and to a pole and over it', () => {
    const solve = createShortGeodesic(WGS84);
    const across = emptyLine();
    const elsewhere = emptyLine();
    expect(solve(-17, 179.75, -17.125, -179.75, across)).toBe(true);
    expect(solve(-17, 19.75, -17.125, 20.25, elsewhere)).toBe(true);
    expect(across).toEqual(elsewhere);
    expect(solve(-17, -179.75, -17.125, 179.75, across)).toBe(true);
    expect(across.distanceM).toBeCloseTo(elsewhere.distanceM, 9);
    expect(solve(89, 30, 90, 30, across)).toBe(true);
    expect(across.azimuthDeg).toBe(0);
  });

  it('leave longer lines and flatter bodies alone', () => {
    const line = emptyLine();
    expect(createShortGeodesic(WGS84)(10, 20, 12.1, 20, line)).toBe(false);
    expect(createShortGeodesic(WGS84)(10, 20, 10, 22.1, line)).toBe(false);
    expect(createShortGeodesic(ellipsoidFrom('flat', 6378137, 150))(10, 20, 10.1, 20, line)).toBe(false);
    expect(line).toEqual(emptyLine());
  });
});
