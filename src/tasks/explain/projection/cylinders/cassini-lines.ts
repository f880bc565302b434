import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { kruegerWorking } from '../../../../core/projection/methods/krueger-working.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { INPUT_ANGLE, LENGTH, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import {
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';
import { meridianArcLines } from './meridian-arc-lines.js';

/**
 * Cassini-Soldner, worked at a place in degrees. Reference: IOGP-373-7-2, methods 9806 and 9833; the meridian arc by
 * the series of KARNEY-2011.
 */
export function cassiniLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const es = ellipsoid.eccentricitySquared;
  const isHyperbolic = grid.projection.method.includes('hyperbolic');
  const originDeg = parameterOf(grid, 'latitude of origin');
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const [phi, difference] = [latitudeDeg, meridianDifference(longitudeDeg, meridianDeg)].map(degreesToRadians) as [
    number,
    number,
  ];
  const [sin, cos] = [Math.sin(phi), Math.cos(phi)];
  const [own, origin] = [kruegerWorking(ellipsoid, phi, 0), kruegerWorking(ellipsoid, degreesToRadians(originDeg), 0)];
  const [arcM, originArcM] = [own.rectifyingRadiusM * own.xi, origin.rectifyingRadiusM * origin.xi];
  const nu = (ellipsoid.semiMajorAxisM * parallelRadius(phi, es)) / cos;
  const rho = (nu * (1 - es)) / (1 - es * sin * sin);
  const [away, t, c] = [difference * cos, (sin / cos) ** 2, (es * cos * cos) / (1 - es)];
  const x = nu * (away - (t * away ** 3) / 6 - ((8 - t + 8 * c) * t * away ** 5) / 120);
  const y = arcM - originArcM + nu * (sin / cos) * (away ** 2 / 2 + ((5 - t + 6 * c) * away ** 4) / 24);
  const { eastM, northM } = falseOrigin(grid);
  const [east, north] = [eastM + x, northM + y - (isHyperbolic ? y ** 3 / (6 * rho * nu) : 0)];
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(stated('φ₀', originDeg, INPUT_ANGLE), stated('λ₀', meridianDeg, INPUT_ANGLE), falseOriginText(grid)),
    placeLine(latitudeDeg, longitudeDeg),
    ...meridianArcLines({ own, origin, arcM, originArcM }, spherical),
    differenceLine(longitudeDeg, meridianDeg),
    together(
      worked('A', 'Δλ·cos(φ)', away, NUMBER14),
      worked('T', 'tan(φ)²', t, NUMBER14),
      ...(spherical ? ['C = 0'] : [worked('C', 'e²·cos²φ / (1 − e²)', c, NUMBER14)]),
    ),
    worked('ν', spherical ? 'a' : 'a / √(1 − e²·sin²φ)', nu, LENGTH),
    worked('x', 'ν·(A − T·A³ / 6 − (8 − T + 8·C)·T·A⁵ / 120)', x, LENGTH5),
    worked('y', 'M − M₀ + ν·tan(φ)·(A² / 2 + (5 − T + 6·C)·A⁴ / 24)', y, LENGTH5),
    ...(isHyperbolic ? [worked('ρ', spherical ? 'ν' : 'ν·(1 − e²) / (1 − e²·sin²φ)', rho, LENGTH)] : []),
    worked('E', 'E₀ + x', east, LENGTH5),
    worked('N', isHyperbolic ? 'N₀ + y − y³ / (6·ρ·ν)' : 'N₀ + y', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
