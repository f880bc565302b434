import { errorProblem, type Problem } from '../../../records/problem.js';
import type { GridStatus, GridSystem } from './grid-system.js';

/** The place a conversion was asked for: a grid pair or a geographic position, and not a record that has both. */
export type GridPlace =
  | { readonly first: number; readonly second: number; readonly latitudeDeg?: never; readonly longitudeDeg?: never }
  | { readonly latitudeDeg: number; readonly longitudeDeg: number; readonly first?: never; readonly second?: never };

/**
 * The message for a conversion that did not work.
 *
 * Given: the status the conversion returned (not `ok`), the place it was asked for, the grid.
 * Returned: an error with the value, what was expected, and a hint.
 */
export function gridProblem(status: Exclude<GridStatus, 'ok'>, place: GridPlace, system: GridSystem): Problem {
  if (status === 'latitude-out-of-range' && place.latitudeDeg !== undefined) {
    return errorProblem(status, {
      message: `${String(place.latitudeDeg)} is outside -90..90`,
      received: String(place.latitudeDeg),
      expected: '-90..90',
    });
  }
  if (status === 'longitude-out-of-range' && place.longitudeDeg !== undefined) {
    return errorProblem(status, {
      message: `${String(place.longitudeDeg)} is outside -180..360`,
      received: String(place.longitudeDeg),
      expected: '-180..360',
    });
  }
  const [first, second] = system.axes;
  const where =
    place.first !== undefined
      ? `${first.name} ${String(place.first)}, ${second.name} ${String(place.second)}`
      : `latitude ${String(place.latitudeDeg)}, longitude ${String(place.longitudeDeg)}`;
  return errorProblem('coordinate-outside-domain', {
    message: `${where} is outside what ${system.name} can represent`,
    received: where,
    ...(system.areaOfUse === null ? {} : { hint: `${system.name} is for: ${system.areaOfUse.description}` }),
  });
}
