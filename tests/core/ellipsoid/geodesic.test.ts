import { describe, expect, it } from 'vitest';
import { GRS80, WGS84, ellipsoidFrom } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { normaliseLongitudeDeg } from '../../../src/core/numeric/angle-units.js';
import { angleOf } from '../../support/angle-of.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { namedEllipsoid } from '../../support/named-ellipsoid.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';

/** Difference of two directions, seconds of arc, the short way round. */
function turnArcsec(oneDeg: number | null, otherDeg: number): number {
  if (oneDeg === null) return Infinity;
  return normaliseLongitudeDeg(oneDeg - otherDeg) * 3600;
}

const rows = readReferenceTable('geodesic').map((row) => ({
  name: row.case,
  row,
  geodesic: createGeodesic(namedEllipsoid(row.text('ellipsoid'))),
  latitude1: angleOf(row.text('latitude1_deg'), 'latitude'),
  longitude1: angleOf(row.text('longitude1_deg'), 'longitude'),
  azimuth1: angleOf(row.text('azimuth1_deg')),
  latitude2: angleOf(row.text('latitude2_deg'), 'latitude'),
  longitude2: angleOf(row.text('longitude2_deg'), 'longitude'),
  forward2: angleOf(row.text('azimuth2_deg')) + (row.text('azimuth2_sense') === 'back' ? 180 : 0),
  distanceM: row.number('distance_m'),
  azimuthTolerance: row.number('azimuth_tolerance_arcsec'),
}));

describe('published geodesics', () => {
  it.each(rows)('$name: inverse gives the published distance and azimuths', (c) => {
    const line = c.geodesic.inverse(c.latitude1, c.longitude1, c.latitude2, c.longitude2);
    expect(Math.abs(line.distanceM - c.distanceM)).toBeLessThanOrEqual(c.row.tolerance);
    expect(Math.abs(turnArcsec(line.azimuthDeg, c.azimuth1))).toBeLessThanOrEqual(c.azimuthTolerance);
    expect(Math.abs(turnArcsec(line.reverseAzimuthDeg, c.forward2 + 180))).toBeLessThanOrEqual(c.azimuthTolerance);
    expect(c.geodesic.distanceM(c.latitude1, c.longitude1, c.latitude2, c.longitude2)).toBe(line.distanceM);
  });

  it.each(rows)('$name: direct gives the published far end', (c) => {
    const end = c.geodesic.direct(c.latitude1, c.longitude1, c.azimuth1, c.distanceM);
    const missM = c.geodesic.distanceM(end.latitudeDeg, end.longitudeDeg, c.latitude2, c.longitude2);
    // The published azimuth is itself rounded: over the distance that moves the end sideways.
    const sidewaysM = (c.distanceM * c.azimuthTolerance) / 206264.8;
    expect(missM).toBeLessThanOrEqual(c.row.tolerance + sidewaysM);
  });

  it.each(rows)('$name: a hundred rounds of inverse and direct do not wander', (c) => {
    let { latitude2, longitude2 } = c;
    for (let round = 0; round < 100; round += 1) {
      const line = c.geodesic.inverse(c.latitude1, c.longitude1, latitude2, longitude2);
      const end = c.geodesic.direct(c.latitude1, c.longitude1, line.azimuthDeg ?? NaN, line.distanceM);
      latitude2 = end.latitudeDeg;
      longitude2 = end.longitudeDeg;
    }
    expect(c.geodesic.distanceM(latitude2, longitude2, c.latitude2, c.longitude2)).toBeLessThan(2e-7);
  });
});

describe('where the answer is not plain', () => {
  const geodesic = createGeodesic(WGS84);

  it('gives coincident points no azimuth', () => {
    expect(geodesic.inverse(-31.5, 21.4, -31.5, 21.4)).toEqual({
      distanceM: 0,
      azimuthDeg: null,
      reverseAzimuthDeg: null,
    });
    expect(geodesic.inverse(10, 180, 10, -180)).toEqual({ distanceM: 0, azimuthDeg: null, reverseAzimuthDeg: null });
  });

  it('gives an azimuth from a tenth of a millimetre on', () => {
    const closer = geodesic.direct(-31.5, 21.4, 60, 0.00009);
    const farther = geodesic.direct(-31.5, 21.4, 60, 0.00011);
    expect(geodesic.inverse(-31.5, 21.4, closer.latitudeDeg, closer.longitudeDeg).azimuthDeg).toBeNull();
    expect(geodesic.inverse(-31.5, 21.4, farther.latitudeDeg, farther.longitudeDeg).azimuthDeg).toBeCloseTo(60, 2);
  });

  it('keeps azimuths in 0..360, 0 for north and 180 back', () => {
    const line = geodesic.inverse(0, 5, 1, 5);
    expect(line.azimuthDeg).toBe(0);
    expect(line.reverseAzimuthDeg).toBe(180);
    const west = geodesic.inverse(0, 5, 0, 4);
    expect(west.azimuthDeg).toBe(270);
    expect(west.reverseAzimuthDeg).toBe(90);
  });

  it('takes the same line across the 180th meridian as elsewhere', () => {
    const across = geodesic.inverse(-17, 179.9, -17.1, -179.9);
    const elsewhere = geodesic.inverse(-17, 19.9, -17.1, 20.1);
    expect(Math.abs(across.distanceM - elsewhere.distanceM)).toBeLessThan(1e-8);
    expect(geodesic.inverse(-17, 179.9, -17.1, 180.1).distanceM).toBe(across.distanceM);
  });

  it('goes over a pole between antipodal points on the equator, and measures half a meridian ellipse', () => {
    const line = geodesic.inverse(0, 0, 0, 180);
    // GEOGRAPHICLIB-TESTS: twice the quarter meridian 10001965.7293127 m.
    expect(line.distanceM).toBeCloseTo(20003931.4586254, 6);
    expect(line.azimuthDeg).toBe(0);
  });

  it('measures the whole meridian between the poles', () => {
    expect(geodesic.inverse(-90, 0, 90, 0).distanceM).toBeCloseTo(20003931.4586254, 6);
  });

  it('counts azimuths at a pole from the meridian of the longitude given', () => {
    expect(geodesic.inverse(90, 30, 10, 30).azimuthDeg).toBe(180);
    expect(geodesic.inverse(90, 30, 10, 75).azimuthDeg).toBeCloseTo(135, 12);
    expect(geodesic.inverse(-90, 30, 10, 75).azimuthDeg).toBeCloseTo(45, 12);
    expect(geodesic.direct(90, 30, 135, 1e6).longitudeDeg).toBeCloseTo(75, 12);
  });

  it('takes -0 for 0', () => {
    expect(geodesic.inverse(-0, -0, 1, 0)).toEqual(geodesic.inverse(0, 0, 1, 0));
  });

  it('agrees with GeodSolve on nearly antipodal points', () => {
    // `GeodSolve -i -p 10` of GeographicLib: 0 0 0.5 179.5 and 0 0 0.5 179.7.
    const one = geodesic.inverse(0, 0, 0.5, 179.5);
    expect(one.distanceM).toBeCloseTo(19936288.5789653, 6);
    expect(one.azimuthDeg).toBeCloseTo(25.67187286829, 9);
    const other = geodesic.inverse(0, 0, 0.5, 179.7);
    expect(other.distanceM).toBeCloseTo(19944127.4207505, 6);
    expect(other.azimuthDeg).toBeCloseTo(15.55688279349, 9);
  });

  it('reads negative distances as going backwards', () => {
    const back = geodesic.direct(-31.5, 21.4, 60, -5000);
    const opposite = geodesic.direct(-31.5, 21.4, 240, 5000);
    expect(
      geodesic.distanceM(back.latitudeDeg, back.longitudeDeg, opposite.latitudeDeg, opposite.longitudeDeg),
    ).toBeLessThan(1e-8);
  });

  it('refuses what is not a position', () => {
    expect(() => geodesic.inverse(95, 0, 0, 0)).toThrow('out of range');
    expect(() => geodesic.inverse(0, 0, 0, NaN)).toThrow('out of range');
    expect(() => geodesic.distanceM(0, Infinity, 0, 0)).toThrow('out of range');
    expect(() => geodesic.direct(0, 0, NaN, 1)).toThrow('not finite');
    expect(() => geodesic.direct(0, 0, 0, Infinity)).toThrow('not finite');
  });
});

describe('areas', () => {
  it('gives a sphere octant an eighth of its surface, and tells the sense of the ring', () => {
    const sphere = createGeodesic(ellipsoidFrom('unit', 1000, 0));
    const octant = [
      { latitudeDeg: 0, longitudeDeg: 0 },
      { latitudeDeg: 0, longitudeDeg: 90 },
      { latitudeDeg: 90, longitudeDeg: 0 },
    ];
    const area = sphere.polygonArea(octant);
    expect(area.areaM2 / ((4 * Math.PI * 1e6) / 8)).toBeCloseTo(1, 12);
    expect(area.perimeterM).toBeCloseTo(1500 * Math.PI, 8);
    expect(area.counterClockwise).toBe(true);
    const clockwise = sphere.polygonArea([...octant].reverse());
    expect(clockwise.counterClockwise).toBe(false);
    expect(clockwise.areaM2).toBeCloseTo(area.areaM2, 6);
  });

  it('gives a small square its plane area, also across the 180th meridian', () => {
    const geodesic = createGeodesic(GRS80);
    for (const longitudeDeg of [21, 180]) {
      const corner = (azimuthDeg: number): { latitudeDeg: number; longitudeDeg: number } =>
        geodesic.direct(-30, longitudeDeg, azimuthDeg, 100 * Math.SQRT1_2);
      const area = geodesic.polygonArea([corner(225), corner(135), corner(45), corner(315)]);
      expect(Math.abs(area.areaM2 - 10000)).toBeLessThan(0.01);
      expect(area.counterClockwise).toBe(true);
    }
  });
});

describe.skipIf(!hasProgram('GeodSolve'))('against GeodSolve (skipped where the program is absent)', () => {
  it.each(['WGS84', 'CLARKE_1880_ARC'])('agrees on 2000 lines on %s within a micrometre', (name) => {
    const ellipsoid = namedEllipsoid(name);
    const geodesic = createGeodesic(ellipsoid);
    const random = seededRandom(20260304);
    const lines = Array.from({ length: 2000 }, (_, i) => {
      const lat = random.between(-90, 90);
      const lon = random.between(-180, 180);
      if (i % 2 === 0) return [lat, lon, random.between(-90, 90), random.between(-180, 180)] as const;
      const end = geodesic.direct(lat, lon, random.between(0, 360), random.between(0.01, 100000));
      return [lat, lon, end.latitudeDeg, end.longitudeDeg] as const;
    });
    const shape = ['-e', String(ellipsoid.semiMajorAxisM), String(ellipsoid.flattening)];
    const printed = runProgram('GeodSolve', ['-i', '-p', '9', ...shape], lines.map((l) => l.join(' ')).join('\n'));
    expect(printed).toHaveLength(lines.length);
    printed.forEach((text, i) => {
      const [azimuth1 = NaN, azimuth2 = NaN, distance = NaN] = numbersOf(text);
      const line = geodesic.inverse(...(lines[i] as readonly [number, number, number, number]));
      expect(Math.abs(line.distanceM - distance)).toBeLessThan(1e-6);
      // Sideways at the far end, or at 1 m for short lines.
      const armM = Math.min(Math.max(distance, 1), 6e6);
      expect(Math.abs(turnArcsec(line.azimuthDeg, azimuth1)) * armM).toBeLessThan(206264.8 * 1e-6);
      expect(Math.abs(turnArcsec(line.reverseAzimuthDeg, azimuth2 + 180)) * armM).toBeLessThan(206264.8 * 1e-6);
    });
  });
});
