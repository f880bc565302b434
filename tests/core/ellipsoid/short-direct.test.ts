import geographiclib from 'geographiclib-geodesic';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BESSEL_1841, CLARKE_1880_ARC, GRS80, WGS84, ellipsoidFrom } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createShortDirect } from '../../../src/core/ellipsoid/short-direct.js';
import type { ShortEnd } from '../../../src/core/ellipsoid/short-direct.js';
import { createShortGeodesic } from '../../../src/core/ellipsoid/short-geodesic.js';
import { normaliseLongitudeDeg } from '../../../src/core/numeric/angle-units.js';

const METRES_PER_DEGREE = 111_320;
const emptyEnd = (): ShortEnd => ({ latitudeDeg: NaN, longitudeDeg: NaN, azimuthDeg: NaN });
const between = (oneDeg: number, otherDeg: number): number => Math.abs(normaliseLongitudeDeg(oneDeg - otherDeg));

describe('ends of short geodesics', () => {
  const latitude = fc.double({ min: -90, max: 90, noNaN: true });
  const longitude = fc.double({ min: -180, max: 180, noNaN: true });
  const azimuth = fc.oneof(fc.double({ min: 0, max: 360, noNaN: true }), fc.constantFrom(0, 90, 180, 270));
  // Distances of every size, and backwards.
  const distance = fc
    .tuple(fc.double({ min: -300e3, max: 300e3, noNaN: true }), fc.integer({ min: 0, max: 8 }))
    .map(([share, power]) => share * 10 ** -power);
  const ellipsoid = fc.constantFrom(WGS84, GRS80, BESSEL_1841, CLARKE_1880_ARC, ellipsoidFrom('sphere', 6371000, 0));

  it('are those of a solver for any line, to nanometres', () => {
    fc.assert(
      fc.property(ellipsoid, latitude, longitude, azimuth, distance, (on, lat, lon, azi, distanceM) => {
        const end = emptyEnd();
        expect(createShortDirect(on)(lat, lon, azi, distanceM, end)).toBe(true);
        const any = new geographiclib.Geodesic.Geodesic(on.semiMajorAxisM, on.flattening).Direct(
          lat,
          lon,
          azi,
          distanceM,
        );
        const cosine = Math.cos((end.latitudeDeg * Math.PI) / 180);
        expect(Math.abs(end.latitudeDeg - (any.lat2 as number)) * METRES_PER_DEGREE).toBeLessThan(5e-9);
        expect(between(end.longitudeDeg, any.lon2 as number) * METRES_PER_DEGREE * cosine).toBeLessThan(5e-9);
        // Meridians meet: near a pole an azimuth says as little as a longitude. One near 360 is a double of 6 nm of these.
        expect(between(end.azimuthDeg, any.azi2 as number) * METRES_PER_DEGREE * cosine).toBeLessThan(2e-8);
      }),
      { numRuns: 5000 },
    );
  });

  it('lead back to the line they are the end of', () => {
    fc.assert(
      fc.property(fc.double({ min: -85, max: 85, noNaN: true }), azimuth, distance, (lat, azi, distanceM) => {
        fc.pre(distanceM > 1);
        const end = emptyEnd();
        const line = { distanceM: NaN, azimuthDeg: NaN, reverseAzimuthDeg: NaN };
        createShortDirect(WGS84)(lat, 20, azi, distanceM, end);
        fc.pre(createShortGeodesic(WGS84)(lat, 20, end.latitudeDeg, end.longitudeDeg, line));
        expect(Math.abs(line.distanceM - distanceM)).toBeLessThan(1e-8);
        expect(between(line.azimuthDeg, azi) * distanceM).toBeLessThan(5e-7);
        expect(between(line.reverseAzimuthDeg, end.azimuthDeg + 180) * distanceM).toBeLessThan(5e-7);
      }),
    );
  });

  it('of longer lines, and on flatter figures, are left to others', () => {
    const end = { latitudeDeg: 1, longitudeDeg: 2, azimuthDeg: 3 };
    expect(createShortDirect(WGS84)(0, 0, 90, 300_001, end)).toBe(false);
    expect(createShortDirect(WGS84)(0, 0, 90, -300_001, end)).toBe(false);
    expect(createShortDirect(ellipsoidFrom('flat', 6378137, 100))(0, 0, 90, 10, end)).toBe(false);
    expect(end).toEqual({ latitudeDeg: 1, longitudeDeg: 2, azimuthDeg: 3 });
    expect(createShortDirect(WGS84)(0, 0, 90, 300_000, end)).toBe(true);
  });
});
