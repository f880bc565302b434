import { describe, expect, it } from 'vitest';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { gridLine } from '../../../../src/core/grid/factors/grid-line.js';
import { emptyGridPairAndFactors } from '../../../../src/core/grid/factors/grid-factors.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { gridOf, valueOf } from '../../grid/systems.js';

// Methods that few systems have; their published examples are rows of tests/reference/projections.csv.
const SYSTEMS = [
  'EPSG:5515',
  'EPSG:5516',
  'EPSG:5225',
  'EPSG:8441',
  'EPSG:6247',
  'EPSG:3139',
  'EPSG:2985',
  'EPSG:3053',
];
const METRES_A_DEGREE = 111320;

describe('there and back in the whole area of use', () => {
  for (const code of SYSTEMS) {
    it(`${code}: within a micrometre, once and a hundred times`, () => {
      const system = gridOf(code);
      const area = system.areaOfUse!;
      const eastDeg = area.eastDeg < area.westDeg ? area.eastDeg + 360 : area.eastDeg;
      const random = seededRandom(20261129);
      const pair = { first: 0, second: 0 };
      for (let i = 0; i < 100; i += 1) {
        const start = {
          latitudeDeg: random.between(area.southDeg, area.northDeg),
          longitudeDeg: random.between(area.westDeg, eastDeg),
        };
        const place = { ...start };
        for (let turn = 0; turn < (i === 0 ? 100 : 1); turn += 1) {
          expect(system.forward(place.latitudeDeg, place.longitudeDeg, pair)).toBe('ok');
          expect(system.inverse(pair.first, pair.second, place)).toBe('ok');
        }
        const east = ((place.longitudeDeg - start.longitudeDeg + 540) % 360) - 180;
        expect(Math.abs(place.latitudeDeg - start.latitudeDeg) * METRES_A_DEGREE).toBeLessThan(1e-6);
        expect(Math.abs(east) * METRES_A_DEGREE * Math.cos((start.latitudeDeg * Math.PI) / 180)).toBeLessThan(1e-6);
      }
    });
  }
});

describe('a line of some hundred metres', () => {
  for (const code of [...SYSTEMS, 'EPSG:2299']) {
    it(`${code}: its bearing is the azimuth less the convergence, and its length the geodesic times the scale`, () => {
      const system = gridOf(code);
      const area = system.areaOfUse!;
      const eastDeg = area.eastDeg < area.westDeg ? area.eastDeg + 360 : area.eastDeg;
      const from = {
        latitudeDeg: (area.southDeg + 2 * area.northDeg) / 3,
        longitudeDeg: (area.westDeg + 3 * eastDeg) / 4,
      };
      const geodesic = createGeodesic(system.base.ellipsoid);
      for (const azimuthDeg of [0, 50, 170, 290]) {
        const to = geodesic.direct(from.latitudeDeg, from.longitudeDeg, azimuthDeg, 300);
        const line = valueOf(gridLine(system, geodesic, from, to));
        const factors = emptyGridPairAndFactors();
        system.forwardWithFactors(from.latitudeDeg, from.longitudeDeg, factors);
        const turn = Math.abs(line.gridBearingDeg! - (azimuthDeg - factors.convergenceDeg));
        // In the maps that do not keep angles scale differs between directions.
        const spread = Math.abs(factors.meridianScaleFactor - factors.parallelScaleFactor);
        expect(Math.min(turn, Math.abs(turn - 360))).toBeLessThan(4e-4 + spread * 60);
        const scale = (factors.meridianScaleFactor + factors.parallelScaleFactor) / 2;
        expect(Math.abs(line.gridDistanceM / 300 - scale)).toBeLessThan(8e-6 + 2 * spread);
      }
    });
  }
});

describe('the axes of a west-orientated grid', () => {
  it('are westing and northing, the westing growing to the west', () => {
    const system = gridOf('EPSG:3053');
    expect(system.axes.map(({ columnName, abbreviation, direction }) => [columnName, abbreviation, direction])).toEqual(
      [
        ['westing_m', 'W', 'west'],
        ['northing_m', 'N', 'north'],
      ],
    );
    expect(system.southOrientated).toBe(false);
    const [here, west, north] = [
      [65, -18],
      [65, -18.1],
      [65.1, -18],
    ].map(([latitude = NaN, longitude = NaN]) => {
      const pair = { first: 0, second: 0 };
      system.forward(latitude, longitude, pair);
      return pair;
    });
    expect(here).toEqual({ first: 500000, second: 500000 });
    expect(west!.first).toBeGreaterThan(504000);
    expect(north!.second).toBeGreaterThan(511000);
  });
});

describe('far from where a method holds', () => {
  it('refuses a town plane of another country, and the far side of Madagascar', () => {
    const pair = { first: 1, second: 2 };
    expect(gridOf('EPSG:6247').forward(40, -3, pair)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:8441').forward(50, 15, pair)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:5516').forward(-90, 15, pair)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:8441').inverse(9e6, 9e6, { latitudeDeg: 0, longitudeDeg: 0 })).toBe(
      'coordinate-outside-domain',
    );
    expect(pair).toEqual({ first: 1, second: 2 });
  });
});
