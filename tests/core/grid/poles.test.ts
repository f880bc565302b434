import { describe, expect, it } from 'vitest';
import { emptyGridPairAndFactors } from '../../../src/core/grid/factors/grid-factors.js';
import { gridOf } from './systems.js';

const POLAR = ['EPSG:32661', 'EPSG:32761', 'EPSG:3031', 'EPSG:3995', 'EPSG:3413', 'EPSG:5482'];

describe.each(POLAR)('%s works to the pole itself', (code) => {
  const system = gridOf(code);
  const pole = system.definition.proj4?.includes('+lat_0=-90') === true ? -1 : 1;
  it.each([0, 1e-12, 1e-9, 1e-6, 5e-4, 1e-3, 1])('forward, factors and back, %d degrees from it', (distanceDeg) => {
    const out = emptyGridPairAndFactors();
    const place = { latitudeDeg: 0, longitudeDeg: 0 };
    for (const longitudeDeg of [-180, -75, 0, 33.3, 179]) {
      const latitudeDeg = pole * (90 - distanceDeg);
      expect(system.forwardWithFactors(latitudeDeg, longitudeDeg, out)).toBe('ok');
      expect(system.inverse(out.first, out.second, place)).toBe('ok');
      expect(Math.abs(place.latitudeDeg - latitudeDeg)).toBeLessThan(1e-13 * 90);
      // Scale hardly changes about the pole: it is within 0.0001 of the pole's over a degree.
      const atPole = emptyGridPairAndFactors();
      system.forwardWithFactors(pole * 90, longitudeDeg, atPole);
      expect(Math.abs((out.pointScaleFactor ?? 0) - (atPole.pointScaleFactor ?? 1))).toBeLessThan(
        1e-4 * distanceDeg * distanceDeg + 1e-12,
      );
      expect(Math.abs(out.convergenceDeg - atPole.convergenceDeg)).toBeLessThan(1e-9);
    }
  });
});

describe('Lambert conformal at its apex', () => {
  const flat = gridOf('+proj=lcc +lat_0=1 +lat_1=0.5 +lat_2=2 +lon_0=20 +ellps=GRS80');
  it('is one point, whatever the longitude', () => {
    const a = { first: NaN, second: NaN };
    const b = { first: NaN, second: NaN };
    expect(flat.forward(90, 20, a)).toBe('ok');
    expect(flat.forward(90, -100, b)).toBe('ok');
    expect(Math.hypot(a.first - b.first, a.second - b.second)).toBeLessThan(1e-6);
    const place = { latitudeDeg: 0, longitudeDeg: 0 };
    expect(flat.inverse(a.first, a.second, place)).toBe('ok');
    expect(place.latitudeDeg).toBe(90);
  });
  it('has no scale there, and the other pole is refused', () => {
    const out = emptyGridPairAndFactors();
    expect(flat.forwardWithFactors(90, 20, out)).toBe('coordinate-outside-domain');
    expect(flat.forward(-90, 20, out)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:31300').forward(-90, 4, out)).toBe('coordinate-outside-domain');
  });
});
