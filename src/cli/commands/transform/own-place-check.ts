import { toEastNorth } from '../../../core/adjustment/site/site-axes.js';
import type { GeographicPair, GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { OtherPosition } from '../../../io/tables/points/other-position.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { PositionChoice } from '../../../tasks/join/one-position.js';
import { positionsProblem } from '../../../tasks/join/one-position.js';
import { otherZones } from '../../../tasks/site/doubts/other-zones.js';

/** From this distance on a grid pair may be one of another zone: datums differ by hundreds of metres. */
const OTHER_ZONE_M = 2000;
/** Metres in a degree of latitude, near enough. */
const DEGREE_M = 111_000;

/** The comparison of a row with the second position beside it; null where nothing is compared. */
export type OwnPlaceCheck = ((row: PlaceRow, other: OtherPosition) => Problem | null) | null;

/**
 * How the rows of `transform` are compared with a second position they may have.
 *
 * Given: the grid the pair is said to be in, or that it would be written in; whether it is the pair
 * that is read; the choice of --position-from. Returned: the comparison, null where the choice makes
 * one needless or there is no grid. Problem: usage-conflict where the choice is the position not read.
 */
export function ownPlaceCheck(
  grid: GridSystem | null,
  readsPair: boolean,
  choice: PositionChoice,
): Outcome<OwnPlaceCheck> {
  if (choice !== null && (choice === 'grid') !== readsPair) {
    return failure(
      errorProblem('usage-conflict', {
        message: `--position-from ${choice} does not go with a source system that is ${readsPair ? 'a grid' : 'no grid'}`,
        hint: readsPair
          ? `to carry the latitudes and longitudes over, name their system with --from${grid?.base.code == null ? '' : `, such as --from ${grid.base.code}`}`
          : 'to carry the grid pair over, name its system with --from',
      }),
    );
  }
  if (choice !== null || grid === null) return success(null);
  return success((row, other) => {
    const [pair, degrees] = readsPair ? [row, other] : [other, row];
    const place = { latitudeDeg: degrees.first, longitudeDeg: degrees.second };
    const two = {
      ...place,
      pointId: row.pointId,
      gridFirst: pair.first,
      gridSecond: pair.second,
      gridRounding: readsPair ? other.readRounding : other.rounding,
      angleRoundingDeg: readsPair ? other.rounding : other.readRounding,
    };
    return (readsPair ? zoneProblem(grid, row, place) : null) ?? positionsProblem(grid, two);
  });
}

/** coordinate-implausible where the pair lies far from the degrees beside it and fits them in another zone, which it names. */
function zoneProblem(grid: GridSystem, row: PlaceRow, own: GeographicPair): Problem | null {
  const place: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
  if (grid.inverse(row.first, row.second, place) !== 'ok') return null;
  const north = (place.latitudeDeg - own.latitudeDeg) * DEGREE_M;
  const turned =
    (((place.longitudeDeg - own.longitudeDeg + 540) % 360) - 180) * Math.cos((own.latitudeDeg * Math.PI) / 180);
  const apartM = Math.hypot(north, turned * DEGREE_M);
  if (!(apartM > OTHER_ZONE_M)) return null;
  const [a, b] = grid.axes;
  const control = toEastNorth(
    { columns: [a.columnName, b.columnName], metresPerUnit: a.metresPerUnit },
    row.first,
    row.second,
  );
  // Both ways round: the names of the columns may be as wrong as the system.
  const zones = [control, { eastM: -control.eastM, northM: -control.northM }].flatMap((pair) =>
    otherZones(grid, [{ ...own, control: pair }]),
  );
  if (zones.length === 0) return null;
  return errorProblem('coordinate-implausible', {
    message: `point ${row.pointId}: its grid pair in ${grid.name} lies ${String(Math.round(apartM / 1000))} km from the latitude and longitude beside it, and at them in another grid (${zones.join(', ')})`,
    received: `${String(row.first)}, ${String(row.second)}`,
    hint: 'name the grid the file is in with --from, or say with --position-from grid that the pair counts',
  });
}
