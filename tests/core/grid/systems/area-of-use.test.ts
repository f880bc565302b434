import { describe, expect, it } from 'vitest';
import { distanceToAreaKm, isInsideArea } from '../../../../src/core/grid/systems/area-of-use.js';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';

const box = { southDeg: -33, westDeg: 28, northDeg: -22, eastDeg: 30, description: '' };
const pacific = { southDeg: -20, westDeg: 177, northDeg: -10, eastDeg: -178, description: '' };
const world = { southDeg: -80, westDeg: -180, northDeg: 84, eastDeg: 180, description: '' };

describe('isInsideArea', () => {
  it('includes the edges', () => {
    expect(isInsideArea(box, -33, 28) && isInsideArea(box, -22, 30)).toBe(true);
    expect(isInsideArea(box, -21.999, 29) || isInsideArea(box, -25, 30.001) || isInsideArea(box, -25, 27.999)).toBe(
      false,
    );
  });
  it('crosses the 180th meridian, in either way of counting', () => {
    for (const longitudeDeg of [177, 180, -180, -178, 182, 179.9, -179.9])
      expect(isInsideArea(pacific, -15, longitudeDeg)).toBe(true);
    for (const longitudeDeg of [176.9, -177.9, 0, 182.1]) expect(isInsideArea(pacific, -15, longitudeDeg)).toBe(false);
  });
  it('takes every longitude of a box round the world', () => {
    for (const longitudeDeg of [-180, 0, 180, 359]) expect(isInsideArea(world, 0, longitudeDeg)).toBe(true);
  });
});

describe('distanceToAreaKm', () => {
  it('is zero inside', () => {
    expect(distanceToAreaKm(box, -25, 29)).toBe(0);
  });
  it('is within half a percent of the geodesic to the nearest point of the box', () => {
    const geodesic = createGeodesic(WGS84);
    for (const [latitudeDeg, longitudeDeg] of [
      [-15, 29],
      [-40, 28.5],
      [-25, 36],
      [-28, 10],
      [-10, 40],
      [-45, -150],
    ] as const) {
      let nearest = Infinity;
      for (let i = 0; i <= 1100; i += 1) {
        const side = -33 + i / 100;
        for (const edge of [28, 30])
          nearest = Math.min(nearest, geodesic.distanceM(latitudeDeg, longitudeDeg, side, edge));
      }
      for (let i = 0; i <= 200; i += 1) {
        for (const edge of [-33, -22])
          nearest = Math.min(nearest, geodesic.distanceM(latitudeDeg, longitudeDeg, edge, 28 + i / 100));
      }
      expect(Math.abs(distanceToAreaKm(box, latitudeDeg, longitudeDeg) / (nearest / 1000) - 1)).toBeLessThan(0.006);
    }
  });
});
