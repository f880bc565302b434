import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createNumericFactors } from '../../../../src/core/grid/factors/numeric-factors.js';
import type { PlanePair } from '../../../../src/core/projection/projection-engine.js';

/** A plate carrée that ends at given edges, radians. */
function plateCarree(limits: {
  readonly south?: number;
  readonly north?: number;
  readonly west?: number;
  readonly east?: number;
}): (latitudeRad: number, longitudeRad: number, out: PlanePair) => boolean {
  const { south = -9, north = 9, west = -9, east = 9 } = limits;
  return (latitudeRad, longitudeRad, out) => {
    if (latitudeRad < south || latitudeRad > north || longitudeRad < west || longitudeRad > east) return false;
    out.eastM = WGS84.semiMajorAxisM * longitudeRad;
    out.northM = WGS84.semiMajorAxisM * latitudeRad;
    return true;
  };
}

const UNTOUCHED = { eastM: 1, northM: 2, convergenceRad: 3, meridianScaleFactor: 4, parallelScaleFactor: 5 };

describe('createNumericFactors', () => {
  it('gives 1 along the equator of a plate carrée and 1/cos φ along its parallels, nearly', () => {
    const out = { ...UNTOUCHED };
    expect(createNumericFactors(plateCarree({}), WGS84)(0, 0.3, out)).toBe(true);
    expect(out.parallelScaleFactor).toBeCloseTo(1, 12);
    expect(out.convergenceRad).toBeCloseTo(0, 12);
    expect(createNumericFactors(plateCarree({}), WGS84)(Math.PI / 3, 0.3, out)).toBe(true);
    expect(out.parallelScaleFactor).toBeCloseTo(2 * Math.sqrt(1 - WGS84.eccentricitySquared * 0.75), 10);
  });

  it.each([
    ['within 60 m of a pole', {}, Math.PI / 2 - 9e-6, 0],
    ['within 60 m of the other pole', {}, -Math.PI / 2 + 9e-6, 0],
    ['outside', { north: 0.4 }, 0.5, 0],
    ['a step from the northern edge', { north: 0.5 }, 0.5 - 4e-4, 0],
    ['two steps from the northern edge', { north: 0.5 }, 0.5 - 8e-4, 0],
    ['a step from the southern edge', { south: 0.5 }, 0.5 + 4e-4, 0],
    ['two steps from the southern edge', { south: 0.5 }, 0.5 + 8e-4, 0],
    ['a step from the eastern edge', { east: 1 }, 0, 1 - 4e-4],
    ['two steps from the eastern edge', { east: 1 }, 0, 1 - 8e-4],
    ['a step from the western edge', { west: 1 }, 0, 1 + 4e-4],
    ['two steps from the western edge', { west: 1 }, 0, 1 + 8e-4],
  ])('refuses a point %s, and leaves the record as it was', (_, limits, latitudeRad, longitudeRad) => {
    const out = { ...UNTOUCHED };
    expect(createNumericFactors(plateCarree(limits), WGS84)(latitudeRad, longitudeRad, out)).toBe(false);
    expect(out).toEqual(UNTOUCHED);
  });
});
