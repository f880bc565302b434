import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { ANGLE, INPUT_ANGLE, LENGTH, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import { areaFormula, areaOfLatitude } from '../planes/equal-area-lines.js';
import {
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

/**
 * Albers' equal-area cone, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, method 9822; SNYDER-1395, equations 14-1 to 14-6 and 14-12 to 14-15.
 */
export function albersLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const [firstDeg, secondDeg] = [
    parameterOf(grid, 'first standard parallel'),
    parameterOf(grid, 'second standard parallel'),
  ];
  const spherical = ellipsoid.flattening === 0;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  // Not stated: the equator, as the registry and PROJ take it.
  const originDeg = gridParameter(grid, 'latitude of origin') ?? 0;
  const { eccentricitySquared: es, semiMajorAxisM: a } = ellipsoid;
  const [m1, m2] = [firstDeg, secondDeg].map((deg) => parallelRadius(degreesToRadians(deg), es)) as [number, number];
  const [q1, q2, q0, q] = [firstDeg, secondDeg, originDeg, latitudeDeg].map((deg) =>
    areaOfLatitude(ellipsoid, deg),
  ) as [number, number, number, number];
  // Of one parallel the cone touches.
  const n = firstDeg === secondDeg ? Math.sin(degreesToRadians(firstDeg)) : (m1 * m1 - m2 * m2) / (q2 - q1);
  const c = m1 * m1 + n * q1;
  const radius = (own: number): number => (a * Math.sqrt(c - n * own)) / n;
  const [originM, placeM] = [radius(q0), radius(q)];
  const angleDeg = n * meridianDifference(longitudeDeg, meridianDeg);
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + placeM * Math.sin(degreesToRadians(angleDeg));
  const north = northM + originM - placeM * Math.cos(degreesToRadians(angleDeg));
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('φ₀', originDeg, INPUT_ANGLE),
      stated('λ₀', meridianDeg, INPUT_ANGLE),
      stated('φ₁', firstDeg, INPUT_ANGLE),
      stated('φ₂', secondDeg, INPUT_ANGLE),
      falseOriginText(grid),
    ),
    placeLine(latitudeDeg, longitudeDeg),
    together(
      worked('m₁', parallel('φ₁', spherical), m1, NUMBER14),
      worked('m₂', parallel('φ₂', spherical), m2, NUMBER14),
    ),
    worked('q₁', areaFormula('φ₁', spherical), q1, NUMBER14),
    worked('q₂', areaFormula('φ₂', spherical), q2, NUMBER14),
    worked('q₀', areaFormula('φ₀', spherical), q0, NUMBER14),
    worked('q', areaFormula('φ', spherical), q, NUMBER14),
    worked('n', firstDeg === secondDeg ? 'sin φ₁' : '(m₁² − m₂²) / (q₂ − q₁)', n, NUMBER14),
    worked('C', 'm₁² + n·q₁', c, NUMBER14),
    together(worked('ρ₀', 'a·√(C − n·q₀) / n', originM, LENGTH), worked('ρ', 'a·√(C − n·q) / n', placeM, LENGTH)),
    differenceLine(longitudeDeg, meridianDeg),
    worked('θ', 'n·Δλ', angleDeg, ANGLE),
    worked('E', 'E₀ + ρ·sin(θ)', east, LENGTH5),
    worked('N', 'N₀ + ρ₀ − ρ·cos(θ)', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
