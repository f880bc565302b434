import { describe, expect, it } from 'vitest';
import { emptyGridPairAndFactors, gridFactorsAt } from '../../../../src/core/grid/factors/grid-factors.js';
import { angleOf } from '../../../support/angle-of.js';
import { hasProgram, runProgram } from '../../../support/external-programs.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { gridOf, projectionArguments } from '../systems.js';

describe('gridFactorsAt', () => {
  for (const row of readReferenceTable('grid-factors')) {
    it(`agrees with the scale and convergence published or computed elsewhere: ${row.case}`, () => {
      const out = emptyGridPairAndFactors();
      const status = gridFactorsAt(
        gridOf(row.text('system')),
        angleOf(row.text('latitude_deg')),
        angleOf(row.text('longitude_deg')),
        out,
      );
      expect(status).toBe('ok');
      expect(Math.abs(out.pointScaleFactor! - row.number('point_scale_factor'))).toBeLessThanOrEqual(
        row.number('scale_tolerance'),
      );
      const convergenceDeg = angleOf(row.text('convergence_deg'));
      expect(Math.abs(out.convergenceDeg - convergenceDeg) * 3600).toBeLessThanOrEqual(row.tolerance);
    });
  }
  it('gives a south-orientated grid the convergence of the north-orientated one', () => {
    const south = emptyGridPairAndFactors();
    const north = emptyGridPairAndFactors();
    gridFactorsAt(gridOf('+proj=tmerc +lon_0=29 +ellps=WGS84 +axis=wsu'), -26, 28.2, south);
    gridFactorsAt(gridOf('+proj=tmerc +lon_0=29 +ellps=WGS84'), -26, 28.2, north);
    expect(south).toEqual(north);
    // West of the central meridian and south of the equator: (28.2 - 29) sin(-26) is positive.
    expect(south.convergenceDeg).toBeGreaterThan(0.35);
  });
  it('gives no single scale where there is none, and the scales along meridian and parallel instead', () => {
    const out = emptyGridPairAndFactors();
    expect(gridFactorsAt(gridOf('EPSG:3857'), 60, 10, out)).toBe('ok');
    expect(out.pointScaleFactor).toBeNull();
    expect(out.meridianScaleFactor).not.toBeCloseTo(out.parallelScaleFactor, 3);
    expect(gridFactorsAt(gridOf('EPSG:30200'), 10.4, -61.5, out)).toBe('ok');
    expect(out.pointScaleFactor).toBeNull();
  });
  it('gives an equal-area projection scales whose product is one', () => {
    const out = emptyGridPairAndFactors();
    expect(gridFactorsAt(gridOf('EPSG:6933'), 35, 40, out)).toBe('ok');
    expect(out.meridianScaleFactor * out.parallelScaleFactor).toBeCloseTo(1, 10);
  });
  it('gives a conic its scale of one on both standard parallels', () => {
    const out = emptyGridPairAndFactors();
    for (const latitudeDeg of [44, 49]) {
      gridFactorsAt(gridOf('EPSG:2154'), latitudeDeg, 5, out);
      expect(out.pointScaleFactor!).toBeCloseTo(1, 10);
    }
  });
  it('gives a conic the closed form of its scale to 1e-9 and of its convergence to 1e-8 degrees (SNYDER-1395, 15-1 to 15-4, 14-15)', () => {
    const system = gridOf('EPSG:2154');
    const e2 = system.base.ellipsoid.eccentricitySquared;
    const e = Math.sqrt(e2);
    const m = (phi: number): number => Math.cos(phi) / Math.sqrt(1 - e2 * Math.sin(phi) ** 2);
    const t = (phi: number): number =>
      Math.tan(Math.PI / 4 - phi / 2) / ((1 - e * Math.sin(phi)) / (1 + e * Math.sin(phi))) ** (e / 2);
    const rad = (deg: number): number => (deg * Math.PI) / 180;
    const n = Math.log(m(rad(44)) / m(rad(49))) / Math.log(t(rad(44)) / t(rad(49)));
    const random = seededRandom(5);
    const out = emptyGridPairAndFactors();
    for (let i = 0; i < 1000; i += 1) {
      const latitudeDeg = random.between(41, 51.5);
      const longitudeDeg = random.between(-9, 10);
      expect(gridFactorsAt(system, latitudeDeg, longitudeDeg, out)).toBe('ok');
      const scale = (m(rad(44)) / m(rad(latitudeDeg))) * (t(rad(latitudeDeg)) / t(rad(44))) ** n;
      expect(Math.abs(out.pointScaleFactor! - scale)).toBeLessThan(1e-9);
      expect(Math.abs(out.convergenceDeg - n * (longitudeDeg - 3))).toBeLessThan(1e-8);
    }
  });
  it('does not depend on the unit of the grid', () => {
    const feet = emptyGridPairAndFactors();
    const metres = emptyGridPairAndFactors();
    gridFactorsAt(gridOf('EPSG:2230'), 33, -117, feet);
    gridFactorsAt(gridOf('EPSG:26946'), 33, -117, metres);
    expect(feet.pointScaleFactor!).toBeCloseTo(metres.pointScaleFactor!, 12);
    expect(feet.first * (1200 / 3937)).toBeCloseTo(metres.first, 3);
  });
  it('leaves the record alone where the place cannot be projected', () => {
    const out = emptyGridPairAndFactors();
    expect(gridFactorsAt(gridOf('EPSG:32631'), 0, 100, out)).toBe('coordinate-outside-domain');
    expect(out).toEqual(emptyGridPairAndFactors());
  });
});

describe.skipIf(!hasProgram('proj'))('general factors agree with proj -S (skipped where it is not installed)', () => {
  for (const [text, latitudeDeg, longitudeDeg] of [
    ['EPSG:2154', 46.7, 2.2],
    ['EPSG:24200', 18, -77.3],
    ['EPSG:29873', 5.4, 115.8],
    ['EPSG:28992', 52.9, 6.8],
    ['EPSG:3031', -75, 40],
    ['EPSG:2056', 46.2, 6.3],
  ] as const) {
    it(`${text}: to the six digits it prints`, () => {
      const system = gridOf(text);
      const line = runProgram(
        'proj',
        ['-S', ...projectionArguments(system.definition.proj4!)],
        `${String(longitudeDeg)} ${String(latitudeDeg)}\n`,
      )[0]!;
      const [h = NaN, k = NaN] = /<([^>]+)>/u.exec(line)![1]!.trim().split(/\s+/u).map(Number);
      const out = emptyGridPairAndFactors();
      expect(gridFactorsAt(system, latitudeDeg, longitudeDeg, out)).toBe('ok');
      expect(Math.abs(out.meridianScaleFactor - h)).toBeLessThan(6e-6);
      expect(Math.abs(out.parallelScaleFactor - k)).toBeLessThan(6e-6);
    });
  }
});
