import { normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import type { ShiftArea } from '../shifts/shift-definition.js';

/**
 * Whether a place lies in the box of a shift, edges included.
 *
 * Given: area; latitude and longitude, degrees; the longitude may be given as 0…360. A box whose
 * west is greater than its east crosses the 180th meridian. Returned: true or false.
 */
export function isInsideShiftArea(area: ShiftArea, latitudeDeg: number, longitudeDeg: number): boolean {
  if (!(latitudeDeg >= area.southDeg && latitudeDeg <= area.northDeg)) return false;
  if (area.westDeg <= -180 && area.eastDeg >= 180) return true;
  const longitude = normaliseLongitudeDeg(longitudeDeg);
  return isBetween(area, longitude) || (Math.abs(longitude) === 180 && isBetween(area, -longitude));
}

function isBetween(area: ShiftArea, longitude: number): boolean {
  if (area.westDeg <= area.eastDeg) return longitude >= area.westDeg && longitude <= area.eastDeg;
  return longitude >= area.westDeg || longitude <= area.eastDeg;
}
