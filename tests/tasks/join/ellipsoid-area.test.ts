import { describe, expect, it } from 'vitest';
import { GRS80, WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { ellipsoidArea } from '../../../src/tasks/join/ellipsoid-area.js';
import { valueOf } from '../../support/shift-of-row.js';

const corner = (
  pointId: string,
  latitudeDeg: number,
  longitudeDeg: number,
  ellipsoidalHeightM: number | null = null,
) => ({
  pointId,
  latitudeDeg,
  longitudeDeg,
  ellipsoidalHeightM,
});

describe('ellipsoidArea', () => {
  it('is the area of the figure by the integral of the meridian: a cell between two meridians, its sides cut short', () => {
    // dA = M N cos φ dφ dλ (identity of the ellipsoid); a cell of 0.001° is as good as a figure of parallels.
    const at = (-31.5 * Math.PI) / 180;
    const { semiMajorAxisM: a, eccentricitySquared: e2 } = GRS80;
    const w = 1 - e2 * Math.sin(at) ** 2;
    const side = (0.001 * Math.PI) / 180;
    const expected = ((a * (1 - e2)) / w ** 1.5) * (a / Math.sqrt(w)) * Math.cos(at) * side * side;
    const cell = [
      corner('A', -31.5005, 21),
      corner('B', -31.5005, 21.001),
      corner('C', -31.4995, 21.001),
      corner('D', -31.4995, 21),
    ];
    const area = valueOf(ellipsoidArea(cell, createGeodesic(GRS80)));
    expect(Math.abs(area.ellipsoidalAreaM2 / expected - 1)).toBeLessThan(1e-8);
    expect([area.isClockwise, area.groundAreaM2]).toEqual([false, null]);
    expect(valueOf(ellipsoidArea(cell.toReversed(), createGeodesic(GRS80))).isClockwise).toBe(true);
  });

  it('grows with the mean height, and needs that of every corner', () => {
    const cell = [corner('A', 0, 0, 900), corner('B', 0, 0.01, 1000), corner('C', 0.01, 0, 1100)];
    const area = valueOf(ellipsoidArea(cell, createGeodesic(WGS84)));
    expect(area.meanHeightM).toBe(1000);
    // Twice 1000 m over the radius, 6.3567e6 m at the equator: b of the ellipsoid.
    expect((area.groundAreaM2 ?? 0) / area.ellipsoidalAreaM2 - 1).toBeCloseTo(2000 / 6_356_752, 7);
  });

  it('sees sides that cross, also over the 180th meridian and about a pole', () => {
    const geodesic = createGeodesic(WGS84);
    const codes = (...corners: readonly ReturnType<typeof corner>[]): readonly string[] =>
      ellipsoidArea(corners, geodesic).problems.map(({ code }) => code);
    expect(codes(corner('A', -17, 179), corner('B', -17, -179), corner('C', -16, -179), corner('D', -16, 179))).toEqual(
      [],
    );
    expect(codes(corner('A', -17, 179), corner('C', -16, -179), corner('B', -17, -179), corner('D', -16, 179))).toEqual(
      ['method-undetermined'],
    );
    expect(codes(corner('A', 89, 0), corner('B', 89, 90), corner('C', 89, 180), corner('D', 89, -90))).toEqual([]);
    expect(codes(corner('A', 89, 0), corner('C', 89, 180), corner('B', 89, 90), corner('D', 89, -90))).toEqual([
      'method-undetermined',
    ]);
    expect(codes(corner('A', 0, 0), corner('B', 0, 1))).toEqual(['value-out-of-range']);
    expect(codes(corner('A', 0, 0), corner('B', 0, 90), corner('C', 45, 45))).toEqual(['value-out-of-range']);
  });
});
