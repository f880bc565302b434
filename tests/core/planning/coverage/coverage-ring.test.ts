import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { coverageRing } from '../../../../src/core/planning/coverage/coverage-ring.js';
import type { CoverageRing } from '../../../../src/core/planning/coverage/coverage-ring.js';
import type { PlanPlace } from '../../../../src/core/planning/plan-point.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';

const geodesic = createGeodesic(WGS84);

const BASES: readonly (PlanPlace & { readonly radiusM: number; readonly rings: number; readonly pole: 'north' | 'south' | null })[] = [
  { latitudeDeg: -31.5, longitudeDeg: 21.4, radiusM: 40_000, rings: 1, pole: null },
  { latitudeDeg: 0, longitudeDeg: 0, radiusM: 1, rings: 1, pole: null },
  { latitudeDeg: -17.2, longitudeDeg: 179.9, radiusM: 40_000, rings: 2, pole: null },
  { latitudeDeg: -17.2, longitudeDeg: -179.9, radiusM: 40_000, rings: 2, pole: null },
  { latitudeDeg: 64, longitudeDeg: 180, radiusM: 60_000, rings: 2, pole: null },
  { latitudeDeg: 64, longitudeDeg: -180, radiusM: 60_000, rings: 2, pole: null },
  { latitudeDeg: 64, longitudeDeg: 540, radiusM: 60_000, rings: 2, pole: null },
  { latitudeDeg: 89.9, longitudeDeg: 33, radiusM: 40_000, rings: 1, pole: 'north' },
  { latitudeDeg: -89.9, longitudeDeg: 33, radiusM: 40_000, rings: 1, pole: 'south' },
  { latitudeDeg: 90, longitudeDeg: 0, radiusM: 40_000, rings: 1, pole: 'north' },
  { latitudeDeg: -90, longitudeDeg: 100, radiusM: 40_000, rings: 1, pole: 'south' },
  { latitudeDeg: 89.9, longitudeDeg: 180, radiusM: 40_000, rings: 1, pole: 'north' },
  { latitudeDeg: 89.9, longitudeDeg: 1, radiusM: 40_000, rings: 1, pole: 'north' },
  { latitudeDeg: 89.9, longitudeDeg: -1, radiusM: 40_000, rings: 1, pole: 'north' },
  { latitudeDeg: -89.9, longitudeDeg: 179.5, radiusM: 40_000, rings: 1, pole: 'south' },
  { latitudeDeg: -89.9, longitudeDeg: -179.5, radiusM: 40_000, rings: 1, pole: 'south' },
  { latitudeDeg: 89.5, longitudeDeg: 10, radiusM: 40_000, rings: 1, pole: null },
  { latitudeDeg: 60, longitudeDeg: -100, radiusM: 3_900_000, rings: 1, pole: 'north' },
];

function draw(base: PlanPlace, radiusM: number, count = 180): CoverageRing {
  const drawn = coverageRing(geodesic, base, radiusM, count);
  if (!drawn.ok) throw new Error(drawn.problems[0]?.message ?? 'not drawn');
  return drawn.value;
}

function signedAreaDeg2(ring: readonly PlanPlace[]): number {
  let twice = 0;
  for (let i = 0; i + 1 < ring.length; i += 1) {
    const [a, b] = [ring[i], ring[i + 1]];
    if (a !== undefined && b !== undefined) twice += a.longitudeDeg * b.latitudeDeg - b.longitudeDeg * a.latitudeDeg;
  }
  return twice / 2;
}

describe('coverageRing', () => {
  it.each(BASES)('puts every vertex at the radius within 1 mm around $latitudeDeg $longitudeDeg, radius $radiusM m', (base) => {
    const drawn = draw(base, base.radiusM);
    expect(drawn.rings).toHaveLength(base.rings);
    expect(drawn.containsPole).toBe(base.pole);
    let corners = 0;
    for (const ring of drawn.rings) {
      for (const vertex of ring) {
        if (base.pole !== null && Math.abs(vertex.latitudeDeg) === 90) {
          corners += 1;
          continue;
        }
        const d = geodesic.distanceM(base.latitudeDeg, base.longitudeDeg, vertex.latitudeDeg, vertex.longitudeDeg);
        expect(Math.abs(d - base.radiusM)).toBeLessThan(1e-3);
      }
    }
    expect(corners).toBe(base.pole === null ? 0 : 2);
  });

  it.each(BASES)('closes its rings counter-clockwise, within ±180 and never across the 180th meridian, at $latitudeDeg $longitudeDeg', (base) => {
    for (const ring of draw(base, base.radiusM).rings) {
      expect(ring.length).toBeGreaterThanOrEqual(4);
      expect(ring[0]).toEqual(ring.at(-1));
      expect(signedAreaDeg2(ring)).toBeGreaterThan(0);
      for (let i = 0; i + 1 < ring.length; i += 1) {
        const [a, b] = [ring[i], ring[i + 1]];
        if (a === undefined || b === undefined) throw new Error('short ring');
        expect(Math.abs(a.longitudeDeg)).toBeLessThanOrEqual(180);
        // Only the edge along a pole may run from one side of the map to the other.
        if (Math.abs(a.latitudeDeg) < 90 || Math.abs(b.latitudeDeg) < 90) expect(Math.abs(a.longitudeDeg - b.longitudeDeg)).toBeLessThan(180);
      }
    }
  });

  it('encloses the area of a geodesic circle: the pieces on both sides of the 180th meridian add up', () => {
    const whole = geodesic.polygonArea(draw({ latitudeDeg: -17.2, longitudeDeg: 20 }, 40_000, 720).rings[0]?.slice(1) ?? []).areaM2;
    const pieces = draw({ latitudeDeg: -17.2, longitudeDeg: 179.9 }, 40_000, 720).rings.map((ring) => geodesic.polygonArea(ring.slice(1)).areaM2);
    expect(pieces).toHaveLength(2);
    expect((pieces[0] ?? 0) + (pieces[1] ?? 0)).toBeCloseTo(whole, -6);
    expect(Math.abs(whole / (Math.PI * 40_000 ** 2) - 1)).toBeLessThan(1e-4);
  });

  it('draws a circle that touches the pole as one that stops a millimetre short', () => {
    const toPoleM = geodesic.distanceM(89.7, 40, 90, 40);
    const drawn = draw({ latitudeDeg: 89.7, longitudeDeg: 40 }, toPoleM);
    expect(drawn.containsPole).toBeNull();
    for (const vertex of drawn.rings[0] ?? []) expect(Math.abs(geodesic.distanceM(89.7, 40, vertex.latitudeDeg, vertex.longitudeDeg) - toPoleM)).toBeLessThan(2e-3);
  });

  it('refuses a radius of zero, one of half the globe, and a triangle', () => {
    const base = { latitudeDeg: 0, longitudeDeg: 0 };
    for (const [radiusM, count] of [[0, 180], [20_000_000, 180], [1000, 3], [Number.NaN, 180]] as const) {
      expect(coverageRing(geodesic, base, radiusM, count).problems.map(({ code }) => code)).toEqual(['value-out-of-range']);
    }
  });

  // KARNEY-2013 by another implementation: GeodSolve of GeographicLib.
  it.skipIf(!hasProgram('GeodSolve'))('agrees with GeodSolve on the distance of its vertices to 1e-6 m (skipped where GeodSolve is absent)', () => {
    const base = { latitudeDeg: -17.2, longitudeDeg: 179.9 };
    const vertices = draw(base, 40_000).rings.flat();
    const lines = vertices.map((v) => `${String(base.latitudeDeg)} ${String(base.longitudeDeg)} ${String(v.latitudeDeg)} ${String(v.longitudeDeg)}`);
    const answers = runProgram('GeodSolve', ['-i', '-p', '9'], `${lines.join('\n')}\n`);
    for (const line of answers) expect(Math.abs((numbersOf(line)[2] ?? 0) - 40_000)).toBeLessThan(1e-6);
  });
});
