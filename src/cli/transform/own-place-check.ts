import { toEastNorth } from '../../core/adjustment/site-axes.js';
import type { GeographicPair, GridSystem } from '../../core/grid/grid-system.js';
import type { PlaceRow } from '../../records/place-row.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { otherZones } from '../../tasks/site/other-zones.js';

/** Datums differ by hundreds of metres, zones by a hundred kilometres and more. */
const SAME_PLACE_M = 2000;
/** Metres in a degree of latitude, near enough. */
const DEGREE_M = 111_000;

/**
 * Whether the latitude and longitude a file has beside its grid pair are those of the pair: where they are not, the
 * zone is the wrong one.
 *
 * Given: the grid the pair is said to be in; the row; its own latitude and longitude, in any datum. Returned:
 * coordinate-implausible where they are more than 2 km apart, with the zone that fits if there is one; else null.
 */
export function ownPlaceProblem(grid: GridSystem, row: PlaceRow, own: GeographicPair): Problem | null {
  const place: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
  if (grid.inverse(row.first, row.second, place) !== 'ok') return null;
  const north = (place.latitudeDeg - own.latitudeDeg) * DEGREE_M;
  const turned = (((place.longitudeDeg - own.longitudeDeg + 540) % 360) - 180) * Math.cos((own.latitudeDeg * Math.PI) / 180);
  const apartM = Math.hypot(north, turned * DEGREE_M);
  if (!(apartM > SAME_PLACE_M)) return null;
  const [a, b] = grid.axes;
  const control = toEastNorth({ columns: [a.columnName, b.columnName], metresPerUnit: a.metresPerUnit }, row.first, row.second);
  // Both ways round: the names of the columns may be as wrong as the system.
  const zones = [control, { eastM: -control.eastM, northM: -control.northM }].flatMap((pair) => otherZones(grid, [{ ...own, control: pair }]));
  return errorProblem('coordinate-implausible', {
    message: `point ${row.pointId}: its grid pair in ${grid.name} lies ${String(Math.round(apartM / 1000))} km from the latitude and longitude beside it${zones.length === 0 ? '' : `, and at them in another grid (${zones.join(', ')})`}`,
    received: `${String(row.first)}, ${String(row.second)}`,
    hint: zones.length === 0 ? 'is the file in another system? name it with --from, or leave out the columns that do not belong together' : 'name the grid the file is in with --from',
  });
}
