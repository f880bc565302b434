import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { eulerRadiusM } from '../../../../src/core/ellipsoid/radii.js';
import { combinedFactor, elevationFactor } from '../../../../src/core/grid/factors/elevation-factor.js';
import { slopeToEllipsoidal } from '../../../../src/core/grid/factors/slope-to-ellipsoidal.js';
import { slopeByCosines } from '../../../support/slope-by-cosines.js';
import { valueOf } from '../systems.js';

describe('slopeToEllipsoidal', () => {
  it('brings a slope line of 60 km within 0.15 mm of the geodesic, whatever its direction (brief 3.6; independent geometry)', () => {
    const geodesic = createGeodesic(GRS80);
    for (const latitudeDeg of [-60, -30, 0, 45]) {
      for (const azimuthDeg of [0, 35, 90, 140]) {
        const from = { latitudeDeg, longitudeDeg: 20, ellipsoidalHeightM: 300 };
        const end = geodesic.direct(latitudeDeg, 20, azimuthDeg, 60000);
        const middle = geodesic.direct(latitudeDeg, 20, azimuthDeg, 30000);
        const a = geodeticToGeocentric(from, GRS80);
        const b = geodeticToGeocentric({ ...end, ellipsoidalHeightM: 1300 }, GRS80);
        const slopeM = Math.hypot(b.xM - a.xM, b.yM - a.yM, b.zM - a.zM);
        const radiusM = eulerRadiusM(GRS80, middle.latitudeDeg, middle.azimuthDeg);
        expect(Math.abs(valueOf(slopeToEllipsoidal(slopeM, 300, 1300, radiusM)) - 60000)).toBeLessThan(1.5e-4);
      }
    }
  });
  it('is undone by the triangle of the two marks and the centre of the arc', () => {
    for (const [slope, h1, h2] of [
      [10, 5, 8],
      [1234.5, -20, 300],
      [60000, 1000, 40],
    ] as const) {
      const level = valueOf(slopeToEllipsoidal(slope, h1, h2, 6371000));
      expect(slopeByCosines(level, h1, h2, 6371000)).toBeCloseTo(slope, 6);
    }
  });
  it('gives zero for a plumb line, and refuses a slope shorter than the difference of heights', () => {
    expect(valueOf(slopeToEllipsoidal(5, 10, 15, 6371000))).toBe(0);
    const found = slopeToEllipsoidal(4.9, 10, 15, 6371000);
    expect(found.ok ? '' : found.problems[0]!.code).toBe('value-out-of-range');
  });
});

describe('elevationFactor', () => {
  it('is that of the state plane manual for 250 m (NOS-NGS-5, mean radius 6 372 000 m)', () => {
    expect(elevationFactor(6372000, 250)).toBeCloseTo(0.9999607674, 10);
  });
  it('reduces the length of a civil-service question (TW-EXAM-104070, question 4: 2386.987 m at 3 km)', () => {
    expect(Math.abs(2386.987 * elevationFactor(6371000, 3000) - 2385.864)).toBeLessThan(6e-4);
  });
  it('is one on the ellipsoid and above one below it', () => {
    expect(elevationFactor(6371000, 0)).toBe(1);
    expect(elevationFactor(6371000, -100)).toBeGreaterThan(1);
  });
  it('combines with the scale factor by multiplication', () => {
    expect(combinedFactor(0.9996, 0.9999)).toBe(0.9996 * 0.9999);
  });
});
