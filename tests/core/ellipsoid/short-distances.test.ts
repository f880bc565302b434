import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BESSEL_1841, GRS80, WGS84, ellipsoidFrom } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';

const ELLIPSOIDS = [
  WGS84,
  GRS80,
  BESSEL_1841,
  ellipsoidFrom('sphere', 6371000, 0),
  ellipsoidFrom('flat', 6378137, 150),
];

describe('distances from one position to many', () => {
  const latitude = fc.double({ min: -90, max: 90, noNaN: true });
  const longitude = fc.double({ min: -180, max: 180, noNaN: true });
  // Differences of every size: from nothing to more than the short way takes, and across the 180th meridian.
  const difference = fc
    .tuple(fc.double({ min: -3, max: 3, noNaN: true }), fc.integer({ min: 0, max: 9 }))
    .map(([share, power]) => share * 10 ** -power);
  const away = fc.array(fc.tuple(difference, difference), { minLength: 1, maxLength: 700, size: 'max' });

  // Independent of nothing: both ways are ours, and the one line is held against a solver for any line in its own test.
  it('are those of one line after another, to the last bit', () => {
    fc.assert(
      fc.property(fc.constantFrom(...ELLIPSOIDS), latitude, longitude, away, (on, latitudeDeg, longitudeDeg, ends) => {
        const geodesic = createGeodesic(on);
        const latitudes = Float64Array.from(ends, ([north]) => Math.min(90, Math.max(-90, latitudeDeg + north)));
        const longitudes = Float64Array.from(ends, ([, east]) => ((longitudeDeg + east + 540) % 360) - 180);
        const found = new Float64Array(ends.length);
        geodesic.distancesTo(latitudes, longitudes)(latitudeDeg, longitudeDeg, found);
        const each = latitudes.map((own, at) => geodesic.distanceM(latitudeDeg, longitudeDeg, own, longitudes[at]!));
        expect(found).toEqual(each);
      }),
      { numRuns: 300 },
    );
  });

  it('are found anew from each position', () => {
    const geodesic = createGeodesic(WGS84);
    const from = geodesic.distancesTo(Float64Array.of(-31.5, 10, -31.5), Float64Array.of(21.4, 20, 21.5));
    const found = new Float64Array(3);
    for (const [latitudeDeg, longitudeDeg] of [
      [-31.5, 21.4],
      [10.5, 20.5],
    ] as const) {
      from(latitudeDeg, longitudeDeg, found);
      expect([...found]).toEqual([
        geodesic.distanceM(latitudeDeg, longitudeDeg, -31.5, 21.4),
        geodesic.distanceM(latitudeDeg, longitudeDeg, 10, 20),
        geodesic.distanceM(latitudeDeg, longitudeDeg, -31.5, 21.5),
      ]);
    }
  });

  it('refuse what is no position', () => {
    const geodesic = createGeodesic(WGS84);
    expect(() => geodesic.distancesTo(Float64Array.of(91), Float64Array.of(0))).toThrow('out of range');
    expect(() => geodesic.distancesTo(Float64Array.of(1), Float64Array.of(NaN))).toThrow('out of range');
    const from = geodesic.distancesTo(Float64Array.of(1), Float64Array.of(1));
    expect(() => {
      from(NaN, 0, new Float64Array(1));
    }).toThrow('out of range');
  });
});
