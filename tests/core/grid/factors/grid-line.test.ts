import { describe, expect, it } from 'vitest';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { gaussRadiusM } from '../../../../src/core/ellipsoid/radii.js';
import { gridLine, type GridLine } from '../../../../src/core/grid/factors/grid-line.js';
import { lineScaleFactor } from '../../../../src/core/grid/factors/line-scale-factor.js';
import { arcToChordArcsec } from '../../../../src/core/grid/factors/arc-to-chord.js';
import { emptyGridPairAndFactors } from '../../../../src/core/grid/factors/grid-factors.js';
import { angleOf } from '../../../support/angle-of.js';
import { readReferenceTable, type ReferenceRow } from '../../../support/read-reference-table.js';
import { gridOf, valueOf } from '../systems.js';

function lineOf(row: ReferenceRow): {
  readonly line: GridLine;
  readonly to: { latitudeDeg: number; longitudeDeg: number };
} {
  const system = gridOf(row.text('system'));
  const geodesic = createGeodesic(system.base.ellipsoid);
  const from = { latitudeDeg: angleOf(row.text('latitude_deg')), longitudeDeg: angleOf(row.text('longitude_deg')) };
  const to =
    row.text('to_latitude_deg') === ''
      ? geodesic.direct(from.latitudeDeg, from.longitudeDeg, row.number('azimuth_deg'), row.number('distance_m'))
      : { latitudeDeg: angleOf(row.text('to_latitude_deg')), longitudeDeg: angleOf(row.text('to_longitude_deg')) };
  return { line: valueOf(gridLine(system, geodesic, from, to)), to };
}

describe('gridLine', () => {
  for (const row of readReferenceTable('lines')) {
    const near = (found: number | null, column: string, tolerance: number): void => {
      const expected = row.text(column) === '' ? null : angleOf(row.text(column));
      if (expected !== null) expect(Math.abs(found! - expected)).toBeLessThanOrEqual(tolerance);
    };
    it(`agrees with the quantities published or computed elsewhere: ${row.case}`, () => {
      const { line } = lineOf(row);
      expect(Math.abs(line.gridDistanceM - row.number('grid_distance_m'))).toBeLessThanOrEqual(row.tolerance);
      const arcsec = row.number('angle_tolerance_arcsec');
      const factor = row.number('factor_tolerance');
      near(line.gridBearingDeg, 'grid_bearing_deg', arcsec / 3600);
      const checks: readonly (readonly [number | null, string, number])[] = [
        [line.pointScaleFactorFrom, 'k_from', factor],
        [line.pointScaleFactorMiddle, 'k_middle', factor],
        [line.pointScaleFactorTo, 'k_to', factor],
        [line.lineScaleFactor, 'line_scale_factor', factor],
        [line.arcToChordFromArcsec, 'arc_to_chord_from_arcsec', arcsec],
        [line.arcToChordToArcsec, 'arc_to_chord_to_arcsec', arcsec],
      ];
      for (const [found, column, tolerance] of checks) {
        const expected = row.numberOrNull(column);
        if (expected !== null) expect(Math.abs(found! - expected)).toBeLessThanOrEqual(tolerance);
      }
    });
    it(`turns round with the line: ${row.case}`, () => {
      const { line, to } = lineOf(row);
      const system = gridOf(row.text('system'));
      const from = { latitudeDeg: angleOf(row.text('latitude_deg')), longitudeDeg: angleOf(row.text('longitude_deg')) };
      const back = valueOf(gridLine(system, createGeodesic(system.base.ellipsoid), to, from));
      expect(back.gridDistanceM).toBeCloseTo(line.gridDistanceM, 7);
      expect(back.arcToChordFromArcsec!).toBeCloseTo(line.arcToChordToArcsec!, 6);
      expect(back.lineScaleFactor!).toBeCloseTo(line.lineScaleFactor!, 14);
    });
    it(`has a line scale factor that gives the grid distance within 0.2 mm: ${row.case}`, () => {
      const { line } = lineOf(row);
      expect(Math.abs(line.lineScaleFactor! * line.ellipsoidalDistanceM - line.gridDistanceM)).toBeLessThan(2e-4);
    });
  }
  it('agrees with the short formula of transverse Mercator within 0.012 seconds over 60 km', () => {
    const system = gridOf('+proj=tmerc +lat_0=0 +lon_0=0 +k_0=0.9996 +ellps=GRS80');
    const geodesic = createGeodesic(system.base.ellipsoid);
    for (const azimuthDeg of [0, 30, 75, 120, 200, 310]) {
      const from = { latitudeDeg: 45, longitudeDeg: 2.3 };
      const to = geodesic.direct(45, 2.3, azimuthDeg, 60000);
      const a = emptyGridPairAndFactors();
      const b = emptyGridPairAndFactors();
      system.forward(45, 2.3, a);
      system.forward(to.latitudeDeg, to.longitudeDeg, b);
      const radius = gaussRadiusM(system.base.ellipsoid, (45 + to.latitudeDeg) / 2) * 0.9996;
      const short = (-(b.second - a.second) * (2 * a.first + b.first)) / (6 * radius * radius);
      const line = valueOf(gridLine(system, geodesic, from, to));
      expect(Math.abs(line.arcToChordFromArcsec! - (short * 648000) / Math.PI)).toBeLessThan(0.012);
    }
  });
  it('gives grid bearing, azimuth, convergence and correction that add up, south-orientated too', () => {
    for (const text of ['EPSG:2053', 'EPSG:2154', 'EPSG:29873', 'EPSG:28992']) {
      const system = gridOf(text);
      const area = system.areaOfUse!;
      const from = {
        latitudeDeg: (area.southDeg + area.northDeg) / 2,
        longitudeDeg: (area.westDeg + area.eastDeg) / 2 + 0.1,
      };
      const to = { latitudeDeg: from.latitudeDeg + 0.2, longitudeDeg: from.longitudeDeg + 0.3 };
      const line = valueOf(gridLine(system, createGeodesic(system.base.ellipsoid), from, to));
      // North-east on the ground is north-east on the grid, whichever way its axes run.
      expect(line.gridBearingDeg!).toBeGreaterThan(30);
      expect(line.gridBearingDeg!).toBeLessThan(65);
      const sum = line.azimuthDeg! - line.convergenceFromDeg + line.arcToChordFromArcsec! / 3600;
      expect(sum).toBeCloseTo(line.gridBearingDeg!, 10);
      expect(Math.abs(line.arcToChordFromArcsec!)).toBeLessThan(30);
    }
  });
  it('gives metres on a grid in feet', () => {
    const line = (text: string): GridLine => {
      const system = gridOf(text);
      return valueOf(
        gridLine(
          system,
          createGeodesic(system.base.ellipsoid),
          { latitudeDeg: 33, longitudeDeg: -117 },
          { latitudeDeg: 33.1, longitudeDeg: -117.1 },
        ),
      );
    };
    expect(line('EPSG:2230').gridDistanceM).toBeCloseTo(line('EPSG:26946').gridDistanceM, 4);
  });
  it('has no directions where the ends coincide', () => {
    const system = gridOf('EPSG:32633');
    const end = { latitudeDeg: 50, longitudeDeg: 14 };
    const line = valueOf(gridLine(system, createGeodesic(system.base.ellipsoid), end, end));
    expect([line.gridDistanceM, line.azimuthDeg, line.gridBearingDeg, line.arcToChordFromArcsec]).toEqual([
      0,
      null,
      null,
      null,
    ]);
    expect(line.lineScaleFactor).toBeCloseTo(line.pointScaleFactorFrom!, 15);
  });
  it('has no line scale factor where the projection has no single scale', () => {
    const system = gridOf('EPSG:30200');
    const line = valueOf(
      gridLine(
        system,
        createGeodesic(system.base.ellipsoid),
        { latitudeDeg: 10.4, longitudeDeg: -61.5 },
        { latitudeDeg: 10.5, longitudeDeg: -61.4 },
      ),
    );
    expect(line.lineScaleFactor).toBeNull();
    expect(line.gridDistanceM).toBeGreaterThan(15000);
  });
  it('says which end cannot be projected', () => {
    const system = gridOf('EPSG:32633');
    const found = gridLine(
      system,
      createGeodesic(system.base.ellipsoid),
      { latitudeDeg: 0, longitudeDeg: 14 },
      { latitudeDeg: 0, longitudeDeg: 110 },
    );
    expect(found.ok ? '' : found.problems[0]!.message).toContain('longitude 110');
    const back = gridLine(
      system,
      createGeodesic(system.base.ellipsoid),
      { latitudeDeg: 0, longitudeDeg: 110 },
      { latitudeDeg: 0, longitudeDeg: 14 },
    );
    expect(back.ok ? '' : back.problems[0]!.message).toContain('longitude 110');
  });
  it('says where the middle cannot be projected though both ends can', () => {
    const system = gridOf('EPSG:32633');
    const refused = {
      ...system,
      forwardWithFactors: (
        latitudeDeg: number,
        longitudeDeg: number,
        out: ReturnType<typeof emptyGridPairAndFactors>,
      ): ReturnType<typeof system.forwardWithFactors> =>
        longitudeDeg === 15 ? 'coordinate-outside-domain' : system.forwardWithFactors(latitudeDeg, longitudeDeg, out),
    };
    const found = gridLine(
      refused,
      createGeodesic(system.base.ellipsoid),
      { latitudeDeg: 0, longitudeDeg: 14 },
      { latitudeDeg: 0, longitudeDeg: 16 },
    );
    expect(found.ok ? '' : found.problems[0]!.message).toContain('latitude 0, longitude 15 is outside');
  });
});

describe('lineScaleFactor', () => {
  it('weighs the middle four times', () => {
    expect(lineScaleFactor(1, 2, 3)).toBe(2);
    expect(lineScaleFactor(0, 3, 0)).toBe(2);
  });
});

describe('arcToChordArcsec', () => {
  it('is taken the short way across north', () => {
    expect(arcToChordArcsec(0.001, 0, 359.999)).toBeCloseTo(-7.2, 8);
    expect(arcToChordArcsec(359.999, 0, 0.001)).toBeCloseTo(7.2, 8);
  });
});
