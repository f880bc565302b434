import type { Problem } from '../../records/problem.js';
import type { GeoidGrid, GridLevel } from './geoid-grid.js';
import type { GeoidStatus } from './geoid-height.js';

/**
 * The problem of a position that has no geoid height.
 *
 * Given: the status from `GeoidModel.statusAt`, other than `inside`; the position, degrees; the grid.
 * Returned: `grid-outside` or `grid-nodata`, an error; the caller adds where it stands.
 */
export function geoidProblem(
  status: Exclude<GeoidStatus, 'inside'>,
  latitudeDeg: number,
  longitudeDeg: number,
  grid: GeoidGrid,
): Problem {
  const place = `latitude ${shown(latitudeDeg)} longitude ${shown(longitudeDeg)}`;
  if (status === 'nodata') {
    return {
      code: 'grid-nodata',
      severity: 'error',
      message: `geoid grid ${grid.name} has no value at a node around ${place}`,
      received: place,
      hint: 'use a grid that covers the place; no height is guessed from the nodes beside it',
    };
  }
  return {
    code: 'grid-outside',
    severity: 'error',
    message: `${place} is outside geoid grid ${grid.name}`,
    received: place,
    expected: grid.levels.map(extent).slice(0, 3).join('; '),
    hint: 'use a grid that covers the place; check whether latitude and longitude are swapped',
  };
}

function extent(level: GridLevel): string {
  const northDeg = level.southDeg + (level.rows - 1) * level.latitudeStepDeg;
  const latitudes = `latitude ${shown(level.southDeg)} to ${shown(northDeg)}`;
  if (level.wrapsLongitude) return `${latitudes}, all longitudes`;
  const eastDeg = level.westDeg + (level.columns - 1) * level.longitudeStepDeg;
  return `${latitudes}, longitude ${shown(level.westDeg)} to ${shown(eastDeg)}`;
}

/** At most six decimals, for a message. */
function shown(degrees: number): string {
  return String(Math.round(degrees * 1e6) / 1e6);
}
