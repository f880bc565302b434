import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WGS84, ellipsoidFrom } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../src/records/points/point.js';
import { angleOf } from '../../support/angle-of.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { namedEllipsoid } from '../../support/named-ellipsoid.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';

function apartM(one: GeocentricPoint, other: GeocentricPoint): number {
  return Math.hypot(one.xM - other.xM, one.yM - other.yM, one.zM - other.zM);
}

const rows = readReferenceTable('geocentric').map((row) => ({
  name: row.case,
  row,
  ellipsoid: namedEllipsoid(row.text('ellipsoid')),
  geodetic: {
    latitudeDeg: angleOf(row.text('latitude_deg'), 'latitude'),
    longitudeDeg: angleOf(row.text('longitude_deg'), 'longitude'),
    ellipsoidalHeightM: row.number('ellipsoidal_height_m'),
  },
  geocentric: { xM: row.number('x_m'), yM: row.number('y_m'), zM: row.number('z_m') },
}));

describe('published positions', () => {
  it.each(rows)('$name: geodetic to geocentric', (c) => {
    const found = geodeticToGeocentric(c.geodetic, c.ellipsoid);
    for (const axis of ['xM', 'yM', 'zM'] as const) {
      expect(Math.abs(found[axis] - c.geocentric[axis])).toBeLessThanOrEqual(c.row.tolerance);
    }
  });

  it.each(rows)('$name: geocentric to geodetic', (c) => {
    const found = geocentricToGeodetic(c.geocentric, c.ellipsoid);
    const toleranceDeg = (2 * c.row.tolerance) / 111000;
    expect(Math.abs(found.latitudeDeg - c.geodetic.latitudeDeg)).toBeLessThanOrEqual(toleranceDeg);
    expect(Math.abs(found.longitudeDeg - c.geodetic.longitudeDeg)).toBeLessThanOrEqual(2 * toleranceDeg);
    expect(Math.abs(found.ellipsoidalHeightM - c.geodetic.ellipsoidalHeightM)).toBeLessThanOrEqual(2 * c.row.tolerance);
  });

  it.each(rows)('$name: a hundred round trips do not wander', (c) => {
    const start = geodeticToGeocentric(c.geodetic, c.ellipsoid);
    let point = start;
    for (let i = 0; i < 100; i += 1)
      point = geodeticToGeocentric(geocentricToGeodetic(point, c.ellipsoid), c.ellipsoid);
    expect(apartM(point, start)).toBeLessThan(2e-8);
  });
});

describe('edges', () => {
  const back = (p: GeodeticPoint): GeodeticPoint => geocentricToGeodetic(geodeticToGeocentric(p, WGS84), WGS84);

  it('puts the poles on the axis exactly, and finds them again at longitude 0', () => {
    for (const latitudeDeg of [90, -90]) {
      const x = geodeticToGeocentric({ latitudeDeg, longitudeDeg: 123, ellipsoidalHeightM: 50 }, WGS84);
      expect(Math.abs(x.xM)).toBe(0);
      expect(Math.abs(x.yM)).toBe(0);
      const found = geocentricToGeodetic(x, WGS84);
      expect(found.latitudeDeg).toBe(latitudeDeg);
      expect(found.longitudeDeg).toBe(0);
      expect(found.ellipsoidalHeightM).toBeCloseTo(50, 8);
    }
  });

  it('keeps the sign of the 180th meridian', () => {
    expect(back({ latitudeDeg: 10, longitudeDeg: 180, ellipsoidalHeightM: 0 }).longitudeDeg).toBe(180);
    expect(back({ latitudeDeg: 10, longitudeDeg: -180, ellipsoidalHeightM: 0 }).longitudeDeg).toBe(-180);
  });

  it('brings longitudes above 180 to their negative names', () => {
    expect(back({ latitudeDeg: 10, longitudeDeg: 350, ellipsoidalHeightM: 0 }).longitudeDeg).toBeCloseTo(-10, 12);
  });

  it('is continuous beside the poles', () => {
    const near = back({ latitudeDeg: 89.9999999, longitudeDeg: 45, ellipsoidalHeightM: 100 });
    expect(near.latitudeDeg).toBeCloseTo(89.9999999, 12);
    expect(near.longitudeDeg).toBeCloseTo(45, 4);
    expect(near.ellipsoidalHeightM).toBeCloseTo(100, 8);
  });

  it('is exact on a sphere', () => {
    const sphere = ellipsoidFrom('sphere', 6371000, 0);
    const found = geocentricToGeodetic({ xM: 3185500, yM: 0, zM: 6371000 * Math.sqrt(0.75) }, sphere);
    expect(found.latitudeDeg).toBeCloseTo(60, 12);
    expect(found.ellipsoidalHeightM).toBeCloseTo(0, 8);
  });

  it('answers near the centre with a pole, and refuses what is not a number', () => {
    expect(geocentricToGeodetic({ xM: 0, yM: 0, zM: 0 }, WGS84)).toEqual({
      latitudeDeg: 90,
      longitudeDeg: 0,
      ellipsoidalHeightM: -6356752.314245179,
    });
    expect(geocentricToGeodetic({ xM: 1, yM: 1, zM: -1 }, WGS84).latitudeDeg).toBe(-90);
    expect(() => geocentricToGeodetic({ xM: NaN, yM: 0, zM: 0 }, WGS84)).toThrow('not finite');
  });
});

describe('round trips', () => {
  it('come back within 5 nm from 10 km below to 20 km above, which a double of degrees allows', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: -10000, max: 20000, noNaN: true }),
        (latitudeDeg, longitudeDeg, ellipsoidalHeightM) => {
          const start = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }, WGS84);
          const again = geodeticToGeocentric(geocentricToGeodetic(start, WGS84), WGS84);
          expect(apartM(start, again)).toBeLessThan(6e-9);
        },
      ),
      { numRuns: 5000, seed: 4 },
    );
  });

  it('come back within 20 nm from a thousand kilometres below to 40,000 above', () => {
    const random = seededRandom(9);
    for (let i = 0; i < 2000; i += 1) {
      const p = {
        latitudeDeg: random.between(-90, 90),
        longitudeDeg: random.between(-180, 180),
        ellipsoidalHeightM: random.between(-1e6, 4e7),
      };
      const found = back(p);
      expect(Math.abs(found.latitudeDeg - p.latitudeDeg)).toBeLessThan(1e-11);
      expect(Math.abs(found.ellipsoidalHeightM - p.ellipsoidalHeightM)).toBeLessThan(2e-8);
    }
  });

  function back(p: GeodeticPoint): GeodeticPoint {
    return geocentricToGeodetic(geodeticToGeocentric(p, WGS84), WGS84);
  }
});

describe.skipIf(!hasProgram('cct'))('against cct +proj=cart (skipped where the program is absent)', () => {
  it.each(['WGS84', 'CLARKE_1880_ARC'])('agrees on 1500 positions on %s within a micrometre, both ways', (name) => {
    const ellipsoid = namedEllipsoid(name);
    const random = seededRandom(11);
    const points = Array.from({ length: 1500 }, () => ({
      latitudeDeg: random.between(-90, 90),
      longitudeDeg: random.between(-180, 180),
      ellipsoidalHeightM: random.between(-10000, 20000),
    }));
    const definition = [
      '+proj=cart',
      `+a=${String(ellipsoid.semiMajorAxisM)}`,
      `+rf=${String(1 / ellipsoid.flattening)}`,
    ];
    const stdin = points.map(
      (p) => `${String(p.longitudeDeg)} ${String(p.latitudeDeg)} ${String(p.ellipsoidalHeightM)} 0`,
    );
    const printed = runProgram('cct', ['-d', '9', ...definition], stdin.join('\n') + '\n');
    expect(printed).toHaveLength(points.length);
    const theirs = printed.map((text): GeocentricPoint => {
      const [xM = NaN, yM = NaN, zM = NaN] = numbersOf(text.replace(/\s+inf\s*$/, ''));
      return { xM, yM, zM };
    });
    const printedBack = runProgram(
      'cct',
      ['-I', '-d', '15', ...definition],
      theirs.map((p) => `${String(p.xM)} ${String(p.yM)} ${String(p.zM)} 0`).join('\n') + '\n',
    );
    points.forEach((point, i) => {
      const their = theirs[i] as GeocentricPoint;
      expect(apartM(geodeticToGeocentric(point, ellipsoid), their)).toBeLessThan(1e-6);
      const [longitudeDeg = NaN, latitudeDeg = NaN, ellipsoidalHeightM = NaN] = numbersOf(printedBack[i] ?? '');
      const ours = geocentricToGeodetic(their, ellipsoid);
      const theirBack = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }, ellipsoid);
      // Up to 2 µm of the difference is what cct itself loses on the way back: it is allowed for.
      const theirLossM = apartM(theirBack, their);
      expect(apartM(geodeticToGeocentric(ours, ellipsoid), theirBack)).toBeLessThan(1e-7 + theirLossM);
      expect(apartM(geodeticToGeocentric(ours, ellipsoid), their)).toBeLessThan(6e-9);
    });
  });
});
