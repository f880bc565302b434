import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { GeographicSystem } from './geographic-system.js';

/**
 * Whether two geographic systems are the same datum, so that positions of one may be used as
 * positions of the other without a change of frame.
 *
 * They are when their codes are equal, or when their registry names and their ellipsoids are: the
 * registry gives the two-dimensional, three-dimensional and geocentric systems of a datum one name
 * (such as 4148, 4941 and 4940, all Hartebeesthoek94). A system without a name of its own, from a
 * PROJ string, agrees with any system on the same ellipsoid, because it claims nothing more.
 */
export function systemsAgree(a: GeographicSystem, b: GeographicSystem): boolean {
  if (a.code !== null && a.code === b.code) return true;
  if (!sameEllipsoid(a.ellipsoid, b.ellipsoid)) return false;
  if (isUnnamed(a) || isUnnamed(b)) return true;
  return plainName(a.name) === plainName(b.name);
}

/** Equal to a tenth of a millimetre in both semi-axes: registry texts print them to that. */
export function sameEllipsoid(a: Ellipsoid, b: Ellipsoid): boolean {
  const polarA = a.semiMajorAxisM * (1 - a.flattening);
  const polarB = b.semiMajorAxisM * (1 - b.flattening);
  return Math.abs(a.semiMajorAxisM - b.semiMajorAxisM) <= 1e-4 && Math.abs(polarA - polarB) <= 1e-4;
}

function isUnnamed(system: GeographicSystem): boolean {
  return system.code === null && (system.name.startsWith('unnamed, on ') || system.name.startsWith('+'));
}

/** Old registry entries say the dimension or the form in the name. */
function plainName(name: string): string {
  return name.replace(/ \((?:3D|2D|3D deg|geocentric|deg)\)$/u, '').trim();
}
