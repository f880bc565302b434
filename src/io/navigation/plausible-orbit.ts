import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import type { Problem } from '../../records/problem.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { implausible } from './nav-fault.js';

/** Roots of semi-major axes of navigation satellites, √m: from 16,000 to 64,000 km. Common practice, no published source. */
const LEAST_ROOT = 4000;
const MOST_ROOT = 8000;
const MOST_ECCENTRICITY = 0.5;
/** Of GLONASS: distance from the centre of the Earth, m, and speed on the turning Earth, m/s. */
const LEAST_DISTANCE_M = 19e6;
const MOST_DISTANCE_M = 32e6;
const MOST_SPEED = 6000;

/** What is wrong with elements that are no orbit of a navigation satellite; null: nothing. Given: the line of their record. */
export function orbitFault(elements: OrbitElements, line: number): Problem | null {
  const { satellite } = elements;
  if (elements.kind === 'kepler') {
    const { rootSemiMajorAxis: root, eccentricity } = elements;
    if (!(root >= LEAST_ROOT && root <= MOST_ROOT))
      return implausible(
        line,
        `${satellite}: a root of the semi-major axis of ${formatFixed(root, 3)} is none of a navigation satellite`,
        `${String(LEAST_ROOT)} to ${String(MOST_ROOT)}`,
      );
    if (!(eccentricity >= 0 && eccentricity < MOST_ECCENTRICITY))
      return implausible(
        line,
        `${satellite}: an eccentricity of ${formatFixed(eccentricity, 6)} is none of a navigation satellite`,
        `0 to ${String(MOST_ECCENTRICITY)}`,
      );
    return null;
  }
  const distanceM = Math.sqrt(elements.xM ** 2 + elements.yM ** 2 + elements.zM ** 2);
  const speed = Math.sqrt(elements.vxMPerS ** 2 + elements.vyMPerS ** 2 + elements.vzMPerS ** 2);
  if (distanceM >= LEAST_DISTANCE_M && distanceM <= MOST_DISTANCE_M && speed <= MOST_SPEED) return null;
  return implausible(
    line,
    `${satellite}: ${formatFixed(distanceM / 1000, 0)} km from the centre of the Earth at ${formatFixed(speed / 1000, 1)} km/s is none of a navigation satellite`,
    `${String(LEAST_DISTANCE_M / 1000)} to ${String(MOST_DISTANCE_M / 1000)} km, ${String(MOST_SPEED / 1000)} km/s at most`,
  );
}
