import { describe, expect, it } from 'vitest';
import { CLARKE_1866, GRS80, WGS84, ellipsoidFrom } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import {
  eulerRadiusM,
  gaussRadiusM,
  meridianRadiusM,
  primeVerticalRadiusM,
} from '../../../src/core/ellipsoid/radii.js';
import { angleOf } from '../../support/angle-of.js';

describe('radii of curvature', () => {
  // GDA2020-TM, worked example: rho and nu at Flinders Peak and Buninyong, printed to 0.1 mm.
  it.each([
    ['Flinders Peak', '-37:57:03.72030', 6359576.5731, 6386226.708],
    ['Buninyong', '-37:39:10.15610', 6359253.8294, 6386118.6742],
  ])('%s has the published radii', (_name, latitude, rho, nu) => {
    const latitudeDeg = angleOf(latitude, 'latitude');
    expect(Math.abs(meridianRadiusM(GRS80, latitudeDeg) - rho)).toBeLessThan(0.0001);
    expect(Math.abs(primeVerticalRadiusM(GRS80, latitudeDeg) - nu)).toBeLessThan(0.0001);
    expect(gaussRadiusM(GRS80, latitudeDeg)).toBeCloseTo(Math.sqrt(rho * nu), 3);
  });

  it("Euler's radius is the meridian's at 0 and the prime vertical's at 90 degrees", () => {
    expect(eulerRadiusM(WGS84, -31.5, 0)).toBeCloseTo(meridianRadiusM(WGS84, -31.5), 8);
    expect(eulerRadiusM(WGS84, -31.5, 90)).toBeCloseTo(primeVerticalRadiusM(WGS84, -31.5), 8);
    expect(eulerRadiusM(WGS84, -31.5, 37)).toBeCloseTo(eulerRadiusM(WGS84, -31.5, 217), 8);
  });

  it('agrees with the length of a short meridian arc', () => {
    // An arc of a circle is its radius times its angle.
    const geodesic = createGeodesic(WGS84);
    const arcM = geodesic.distanceM(-31.505, 21.4, -31.495, 21.4);
    expect(arcM / ((0.01 * Math.PI) / 180) / meridianRadiusM(WGS84, -31.5)).toBeCloseTo(1, 9);
  });

  it('is the radius itself on a sphere, whichever the direction', () => {
    for (const inverseFlattening of [0, Infinity]) {
      const sphere = ellipsoidFrom('sphere', 6371000, inverseFlattening);
      expect(sphere.flattening).toBe(0);
      expect(eulerRadiusM(sphere, 12, 34)).toBeCloseTo(6371000, 8);
      expect(gaussRadiusM(sphere, 12)).toBeCloseTo(6371000, 8);
    }
  });
});

describe('ellipsoids', () => {
  it('gives WGS 84 its published first eccentricity squared', () => {
    // WGS84-NIMA, table 3.3: 6.69437999014e-3.
    expect(WGS84.eccentricitySquared).toBeCloseTo(6.69437999014e-3, 14);
  });

  it('gives Clarke 1866 its defining semi-minor axis', () => {
    expect(CLARKE_1866.semiMajorAxisM * (1 - CLARKE_1866.flattening)).toBeCloseTo(6356583.8, 8);
  });
});
