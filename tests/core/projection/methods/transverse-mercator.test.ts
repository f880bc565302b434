import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { createMapProjection } from '../../../../src/core/projection/map-projection.js';
import { parseProjString } from '../../../../src/core/projection/definition/parse-proj-string.js';
import { projectionFor } from '../../../../src/core/projection/projection-for.js';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { emptyGridPairAndFactors } from '../../../../src/core/grid/factors/grid-factors.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { gridOf, valueOf } from '../../grid/systems.js';

const DEG = Math.PI / 180;

function parametersOf(text: string): Parameters<typeof projectionFor>[0] {
  return valueOf(parseProjString(text));
}

const LO29 = '+proj=tmerc +lat_0=0 +lon_0=29 +k=1 +ellps=WGS84';
const emptyPlane = (): {
  eastM: number;
  northM: number;
  convergenceRad: number;
  meridianScaleFactor: number;
  parallelScaleFactor: number;
} => ({
  eastM: NaN,
  northM: NaN,
  convergenceRad: NaN,
  meridianScaleFactor: NaN,
  parallelScaleFactor: NaN,
});

describe('the closed transverse Mercator', () => {
  it('gives the coordinates of the projection library within a micrometre, up to 30 degrees away', () => {
    const ours = projectionFor(parametersOf(LO29), 'as-written', WGS84)!;
    const theirs = proj4('+proj=longlat +ellps=WGS84', LO29);
    const random = seededRandom(7);
    const out = emptyPlane();
    for (let i = 0; i < 2000; i += 1) {
      const longitudeDeg = random.between(-1, 59);
      const latitudeDeg = random.between(-89, 89);
      expect(ours.forward(latitudeDeg * DEG, longitudeDeg * DEG, out)).toBe(true);
      const [x = NaN, y = NaN] = theirs.forward([longitudeDeg, latitudeDeg]);
      expect(Math.hypot(out.eastM - x, out.northM - y)).toBeLessThan(1e-6);
    }
  });
  it('gives the factors of the general differences: scale to 1e-9, convergence to 1e-8 degrees', () => {
    const closed = projectionFor(parametersOf(LO29), 'as-written', WGS84)!;
    const general = createMapProjection(parametersOf(LO29), WGS84)!;
    const random = seededRandom(8);
    const a = emptyPlane();
    const b = emptyPlane();
    for (let i = 0; i < 1000; i += 1) {
      const longitudeRad = random.between(19, 39) * DEG;
      const latitudeRad = random.between(-85, 85) * DEG;
      expect(closed.forwardWithFactors(latitudeRad, longitudeRad, a)).toBe(true);
      expect(general.forwardWithFactors(latitudeRad, longitudeRad, b)).toBe(true);
      expect(Math.abs(a.meridianScaleFactor - b.meridianScaleFactor)).toBeLessThan(1e-9);
      expect(Math.abs(a.parallelScaleFactor - b.parallelScaleFactor)).toBeLessThan(1e-9);
      expect(Math.abs(a.convergenceRad - b.convergenceRad) / DEG).toBeLessThan(1e-8);
    }
  });
  it('brings back a pole as a pole, and refuses grid values beyond its reach', () => {
    const system = gridOf('+proj=tmerc +lat_0=0 +lon_0=29 +k=1 +ellps=WGS84');
    const pole = { first: NaN, second: NaN };
    const place = { latitudeDeg: NaN, longitudeDeg: NaN };
    for (const latitudeDeg of [90, -90]) {
      expect(system.forward(latitudeDeg, 29, pole)).toBe('ok');
      expect(system.inverse(pole.first, pole.second, place)).toBe('ok');
      expect(place.latitudeDeg).toBeCloseTo(latitudeDeg, 7);
    }
    for (const [first, second] of [
      [2e7, 0],
      [-2e7, 0],
      [0, 1.2e7],
      [0, -1.2e7],
    ] as const)
      expect(system.inverse(first, second, place)).toBe('coordinate-outside-domain');
  });

  it('mirrors: east and west, north and south differ in sign alone', () => {
    const engine = projectionFor(parametersOf('+proj=tmerc +lat_0=0 +lon_0=0 +ellps=WGS84'), 'as-written', WGS84)!;
    const a = emptyPlane();
    const b = emptyPlane();
    engine.forwardWithFactors(0.5, 0.05, a);
    engine.forwardWithFactors(-0.5, -0.05, b);
    expect([b.eastM, b.northM]).toEqual([-a.eastM, -a.northM]);
    expect([b.convergenceRad, b.meridianScaleFactor]).toEqual([a.convergenceRad, a.meridianScaleFactor]);
    engine.forwardWithFactors(-0.5, 0.05, b);
    expect([b.eastM, b.northM, b.convergenceRad]).toEqual([a.eastM, -a.northM, -a.convergenceRad]);
  });
  it('has the scale of the origin, and no convergence, on the central meridian', () => {
    const engine = projectionFor(parametersOf('+proj=utm +zone=31 +ellps=WGS84'), 'as-written', WGS84)!;
    const out = emptyPlane();
    for (const latitudeDeg of [-80, -30, 0, 45, 84]) {
      engine.forwardWithFactors(latitudeDeg * DEG, 3 * DEG, out);
      expect(out.meridianScaleFactor).toBeCloseTo(0.9996, 14);
      expect(out.convergenceRad).toBeCloseTo(0, 14);
      expect(out.eastM).toBe(500000);
    }
  });
});

const SYSTEMS: readonly (readonly [string, number, number])[] = [
  ...Array.from({ length: 10 }, (_, i) => [`EPSG:${String(2046 + i)}`, 15 + 2 * i, 1] as const),
  ['EPSG:32601', -177, 0.9996],
  ['EPSG:32633', 15, 0.9996],
  ['EPSG:32735', 27, 0.9996],
];

describe.skipIf(!hasProgram('TransverseMercatorProj'))(
  'factors agree with TransverseMercatorProj (skipped where it is not installed)',
  () => {
    for (const [text, centralMeridianDeg, k0] of SYSTEMS) {
      it(`${text}: scale to 1e-12 and convergence to 1e-11 degrees on 1000 places up to 10 degrees away`, () => {
        const system = gridOf(text);
        const random = seededRandom(11);
        const points = Array.from({ length: 1000 }, () => {
          const longitudeDeg = centralMeridianDeg + random.between(-10, 10);
          return [random.between(-80, 84), longitudeDeg < -180 ? longitudeDeg + 360 : longitudeDeg] as const;
        });
        const lines = runProgram(
          'TransverseMercatorProj',
          ['-l', String(centralMeridianDeg), '-k', String(k0), '-p', '13'],
          points.map(([lat, lon]) => `${String(lat)} ${String(lon)}\n`).join(''),
        );
        const out = emptyGridPairAndFactors();
        points.forEach(([latitudeDeg, longitudeDeg], i) => {
          const [, , convergenceDeg = NaN, scale = NaN] = numbersOf(lines[i] ?? '');
          expect(system.forwardWithFactors(latitudeDeg, longitudeDeg, out)).toBe('ok');
          expect(Math.abs(out.pointScaleFactor! - scale)).toBeLessThan(1e-12);
          expect(Math.abs(out.convergenceDeg - convergenceDeg)).toBeLessThan(1e-11);
        });
      });
    }
    it('holds a micrometre up to 40 and a millimetre up to 60 degrees of arc from the central meridian', () => {
      const engine = projectionFor(
        parametersOf('+proj=tmerc +lat_0=0 +lon_0=0 +k_0=1 +ellps=WGS84'),
        'as-written',
        WGS84,
      )!;
      const longitudes = Array.from({ length: 60 }, (_, i) => i + 0.5);
      const lines = runProgram(
        'TransverseMercatorProj',
        ['-k', '1', '-p', '9'],
        longitudes.map((lon) => `10 ${String(lon)}\n`).join(''),
      );
      const out = emptyPlane();
      longitudes.forEach((longitudeDeg, i) => {
        const [east = NaN, north = NaN] = numbersOf(lines[i] ?? '');
        expect(engine.forward(10 * DEG, longitudeDeg * DEG, out)).toBe(true);
        expect(Math.hypot(out.eastM - east, out.northM - north)).toBeLessThan(longitudeDeg < 40 ? 1e-6 : 1e-3);
      });
    });
  },
);
