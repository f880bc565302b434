import { describe, expect, it } from 'vitest';
import {
  baselineParts,
  drawnTolerances,
  MOST_TOLERANCES_DRAWN,
  planRings,
} from '../../../../src/tasks/plan/targets/coverage-shapes.js';
import { toleranceRanges } from '../../../../src/tasks/plan/tolerance-ranges.js';
import { geodesic, setupOf, target } from '../plan-fixture.js';

const base = (
  latitudeDeg: number,
  longitudeDeg: number,
): { id: string; latitudeDeg: number; longitudeDeg: number; ellipsoidalHeightM: null } => ({
  id: 'B',
  latitudeDeg,
  longitudeDeg,
  ellipsoidalHeightM: null,
});

describe('planRings', () => {
  const ranges = toleranceRanges(setupOf({ kind: 'free' }), [
    target('a', 0, 0),
    target('b', 0, 0, { toleranceHorizontalM: 0.02 }),
  ]);
  for (const [latitudeDeg, longitudeDeg] of [
    [-31.5, 21.4],
    [-17.2, 179.9],
    [89.9, 30],
  ] as const) {
    it(`draws every vertex at the usable range within 1 mm about ${latitudeDeg}, ${longitudeDeg}; corners at a pole apart`, () => {
      const rings = planRings(geodesic, [base(latitudeDeg, longitudeDeg)], ranges, 60);
      if (!rings.ok) throw new Error('refused');
      // The second pair of tolerances is below the constant term: it has no rings.
      expect(rings.value.map(({ conditions }) => conditions)).toEqual(['quiet', 'normal', 'active']);
      for (const { ring, radiusM } of rings.value) {
        const vertices = ring.rings.flat().filter((vertex) => Math.abs(vertex.latitudeDeg) !== 90);
        expect(vertices.length).toBeGreaterThan(59);
        for (const vertex of vertices)
          expect(
            Math.abs(geodesic.distanceM(latitudeDeg, longitudeDeg, vertex.latitudeDeg, vertex.longitudeDeg) - radiusM),
          ).toBeLessThan(1e-3);
      }
    });
  }

  it('draws all pairs of tolerances, or only the shortest and longest range of many', () => {
    const many = toleranceRanges(
      setupOf({ kind: 'free' }),
      Array.from({ length: MOST_TOLERANCES_DRAWN + 1 }, (_, index) =>
        target(`p${index}`, 0, 0, { toleranceHorizontalM: 0.1 - 0.01 * index, toleranceVerticalM: null }),
      ),
    );
    expect(drawnTolerances(many.slice(1))).toHaveLength(MOST_TOLERANCES_DRAWN);
    expect(drawnTolerances(many).map(({ toleranceHorizontalM }) => toleranceHorizontalM)).toEqual([
      0.05,
      expect.closeTo(0.1, 12),
    ]);
  });
});

describe('baselineParts', () => {
  it('follows the geodesic in parts of at most 10 km', () => {
    const [line = [], ...others] = baselineParts(geodesic, base(-60, 20), { latitudeDeg: -60, longitudeDeg: 21 });
    expect(others).toEqual([]);
    const lengths = line
      .slice(1)
      .map((vertex, index) =>
        geodesic.distanceM(
          line[index]?.latitudeDeg ?? 0,
          line[index]?.longitudeDeg ?? 0,
          vertex.latitudeDeg,
          vertex.longitudeDeg,
        ),
      );
    expect(Math.max(...lengths)).toBeLessThanOrEqual(10_000 + 1e-6);
    const whole = geodesic.distanceM(-60, 20, -60, 21);
    expect(Math.abs(lengths.reduce((sum, length) => sum + length, 0) - whole)).toBeLessThan(1e-6);
  });

  it('is cut in two at the 180th meridian, both ways, and nowhere jumps across the map', () => {
    for (const [from, to] of [
      [179.9, -179.9],
      [-179.9, 179.9],
      [180, -179.9],
      [-180, 179.9],
    ] as const) {
      const parts = baselineParts(geodesic, base(-17, from), { latitudeDeg: -17.1, longitudeDeg: to });
      for (const part of parts) {
        for (const [index, vertex] of part.slice(1).entries())
          expect(Math.abs(vertex.longitudeDeg - (part[index]?.longitudeDeg ?? NaN))).toBeLessThan(1);
      }
      expect(parts.flat()[0]).toMatchObject({ longitudeDeg: from });
      expect(parts.flat().at(-1)).toMatchObject({ longitudeDeg: to });
      expect(parts).toHaveLength(2);
    }
  });

  it('is nothing where base and target are one place', () => {
    expect(baselineParts(geodesic, base(1, 2), base(1, 2))).toEqual([]);
  });
});
