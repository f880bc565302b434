import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** GeoJSON is WGS 84: only frames that agree with it to about a metre may be written. Null where the system is one. */
export function geojsonFrameProblem(system: GeographicSystem): Problem | null {
  const modern = Math.abs(system.ellipsoid.semiMajorAxisM - 6_378_137) < 0.01;
  const shifted = system.datumShift?.some((value) => value !== 0) === true;
  if (modern && !shifted) return null;
  return errorProblem('system-mismatch', {
    message: `GeoJSON holds WGS 84 positions and ${system.name} is another datum`,
    hint: 'write CSV, or transform the points first',
  });
}
