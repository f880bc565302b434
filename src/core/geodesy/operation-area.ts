import { normaliseLongitudeDeg } from '../numeric/angle-units.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { Shift, ShiftArea } from './shift-definition.js';

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

/**
 * The warning for a place outside the area an operation was published for.
 *
 * Given: shift; latitude and longitude, degrees. Returned: a warning coordinate-outside-area, or
 * null where the place is inside or the shift states no area.
 */
export function operationAreaProblem(shift: Shift, latitudeDeg: number, longitudeDeg: number): Problem | null {
  const area = shift.area;
  if (area === null || isInsideShiftArea(area, latitudeDeg, longitudeDeg)) return null;
  return warningProblem('coordinate-outside-area', {
    message: `${String(latitudeDeg)}, ${String(longitudeDeg)} is outside the area of ${shift.code ?? shift.name} (${area.description})`,
    expected:
      `latitude ${String(area.southDeg)}..${String(area.northDeg)}, ` +
      `longitude ${String(area.westDeg)}..${String(area.eastDeg)}`,
    hint: 'its stated accuracy does not hold there; use an operation made for the place',
  });
}
