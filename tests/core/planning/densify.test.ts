import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { densifyLine } from '../../../src/core/planning/coverage/densify-line.js';
import type { DensifiedPoint, PlanVertex } from '../../../src/core/planning/coverage/densify-line.js';
import { densifyPolygon } from '../../../src/core/planning/coverage/densify-polygon.js';
import type { Outcome } from '../../../src/records/outcome.js';
import { seededRandom } from '../../support/seeded-random.js';

const geodesic = createGeodesic(WGS84);

function vertex(latitudeDeg: number, longitudeDeg: number, ellipsoidalHeightM: number | null = null): PlanVertex {
  return { latitudeDeg, longitudeDeg, ellipsoidalHeightM };
}

function points(outcome: Outcome<readonly DensifiedPoint[]>): readonly DensifiedPoint[] {
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message ?? 'no points');
  return outcome.value;
}

function distance(a: PlanVertex, b: PlanVertex): number {
  return geodesic.distanceM(a.latitudeDeg, a.longitudeDeg, b.latitudeDeg, b.longitudeDeg);
}

const LINE = [vertex(-31.2, 179.7, 100), vertex(-31.4, -179.9, 300), vertex(-31.4, -179.9, 300), vertex(-31.8, -179.8)];

describe('densifyLine', () => {
  it('keeps every vertex, stays within the spacing and counts chainage along the geodesics', () => {
    const made = points(densifyLine(geodesic, LINE, 1000));
    const first = LINE.slice(0, 2) as [PlanVertex, PlanVertex];
    expect(made.filter(({ part }) => part === 'vertex')).toHaveLength(3);
    for (let i = 1; i < made.length; i += 1) {
      const [a, b] = [made[i - 1], made[i]];
      if (a === undefined || b === undefined) throw new Error('short line');
      const d = distance(a, b);
      expect(d).toBeLessThanOrEqual(1000 + 1e-6);
      expect((b.chainageM ?? 0) - (a.chainageM ?? 0)).toBeCloseTo(d, 6);
      expect(Math.abs(b.longitudeDeg)).toBeLessThanOrEqual(180);
    }
    expect(made.at(-1)?.chainageM).toBeCloseTo(
      distance(...first) + distance(vertex(-31.4, -179.9), vertex(-31.8, -179.8)),
      6,
    );
  });

  it('puts points on the geodesic: two parts of a leg add up to the whole', () => {
    const [a, b] = [vertex(60, 10), vertex(61, 12)];
    const whole = distance(a, b);
    for (const point of points(densifyLine(geodesic, [a, b], 5000)))
      expect(distance(a, point) + distance(point, b)).toBeCloseTo(whole, 6);
  });

  it('interpolates heights where both ends have one and leaves them unknown elsewhere', () => {
    const made = points(densifyLine(geodesic, LINE, 1000));
    const corner = made.findIndex(({ part }, i) => part === 'vertex' && i > 0);
    const middle = made[Math.round(corner / 2)];
    const share = (middle?.chainageM ?? 0) / (made[corner]?.chainageM ?? 1);
    expect(middle?.ellipsoidalHeightM).toBeCloseTo(100 + 200 * share, 9);
    expect(made[corner + 1]?.ellipsoidalHeightM).toBeNull();
  });

  it('refuses a line of one position, a spacing of zero and a spacing that makes a million points', () => {
    const code = (vertices: readonly PlanVertex[], spacingM: number): string | undefined =>
      densifyLine(geodesic, vertices, spacingM).problems[0]?.code;
    expect(code([vertex(0, 0)], 100)).toBe('geojson-structure');
    expect(code([vertex(0, 0), vertex(0, 0)], 100)).toBe('geojson-structure');
    expect(code(LINE, 0)).toBe('value-out-of-range');
    expect(code(LINE, Number.NaN)).toBe('value-out-of-range');
    expect(code(LINE, 0.01)).toBe('value-out-of-range');
  });
});

describe('densifyPolygon', () => {
  const around = (
    latitudeDeg: number,
    longitudeDeg: number,
    radiusM: number,
    corners: number,
    turn = 0,
  ): readonly PlanVertex[] =>
    Array.from({ length: corners }, (_, i) => {
      const end = geodesic.direct(latitudeDeg, longitudeDeg, turn - (360 * i) / corners, radiusM);
      return vertex(end.latitudeDeg, end.longitudeDeg);
    });

  it.each([
    ['an ordinary place', -31, 21],
    ['the 180th meridian', -17, 179.99],
    ['the north pole', 89.99, 50],
    ['the south pole', -90, 0],
  ])('leaves no place of an area farther than the spacing from a point, at %s', (_, latitudeDeg, longitudeDeg) => {
    const spacingM = 1500;
    const made = points(densifyPolygon(geodesic, [around(latitudeDeg, longitudeDeg, 10_000, 40)], spacingM));
    expect(made.some(({ part }) => part === 'interior')).toBe(true);
    const random = seededRandom(8);
    for (let i = 0; i < 400; i += 1) {
      const at = geodesic.direct(latitudeDeg, longitudeDeg, random.between(0, 360), 9900 * Math.sqrt(random.next()));
      const nearest = Math.min(...made.map((point) => distance(point, vertex(at.latitudeDeg, at.longitudeDeg))));
      expect(nearest).toBeLessThanOrEqual(spacingM);
    }
    for (const point of made)
      expect(distance(point, vertex(latitudeDeg, longitudeDeg))).toBeLessThanOrEqual(10_000 + 1e-6);
  });

  it('has as many interior points as the area holds squares, and none in a hole', () => {
    const outer = around(-31, 21, 20_000, 180);
    const hole = around(-31, 21, 8000, 90, 1);
    const made = points(densifyPolygon(geodesic, [outer, hole], 500)).filter(({ part }) => part === 'interior');
    const expected = (Math.PI * (20_000 ** 2 - 8000 ** 2)) / 500 ** 2;
    expect(Math.abs(made.length / expected - 1)).toBeLessThan(0.01);
    for (const point of made) expect(distance(point, vertex(-31, 21))).toBeGreaterThan(7990);
  });

  it('gives the same points for a ring that repeats its first vertex and one that does not', () => {
    const ring = around(10, 10, 3000, 5);
    expect(points(densifyPolygon(geodesic, [[...ring, ring[0] ?? vertex(0, 0)]], 400))).toEqual(
      points(densifyPolygon(geodesic, [ring], 400)),
    );
  });

  it('refuses an area that reaches farther than its plane is true', () => {
    const wide = densifyPolygon(
      geodesic,
      [[vertex(-50, -60), vertex(-50, 60), vertex(50, 60), vertex(50, -60)]],
      200_000,
    );
    expect(wide.problems[0]).toMatchObject({
      code: 'value-out-of-range',
      message: 'the area reaches more than 4000 km from its middle',
    });
  });

  it('refuses an area that is empty, a line, without area, or too finely asked for', () => {
    const code = (rings: readonly (readonly PlanVertex[])[], spacingM = 100): string | undefined =>
      densifyPolygon(geodesic, rings, spacingM).problems[0]?.code;
    expect(code([])).toBe('geojson-structure');
    expect(code([[]])).toBe('geojson-structure');
    expect(code([[vertex(0, 0), vertex(0, 0), vertex(0, 0), vertex(0, 0)]])).toBe('geojson-structure');
    expect(code([[vertex(0, 0), vertex(0, 1), vertex(0, 0)]])).toBe('geojson-structure');
    expect(code([[vertex(0, 0), vertex(0, 0.5), vertex(0, 1), vertex(0, 0)]])).toBe('geojson-structure');
    expect(code([around(0, 0, 50_000, 4)], 20)).toBe('value-out-of-range');
    expect(code([around(0, 0, 50_000, 4)], -1)).toBe('value-out-of-range');
  });
});
