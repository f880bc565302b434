import type { LoadedStations } from '../../inputs/station-load.js';
import { withoutPlaceLine } from '../../outputs/without-place-line.js';
import type { JoinMode } from './join-mode.js';
import type { JoinResults } from './join-results.js';

/** How each kind of result is made, for the record. */
export const JOIN_METHODS: Readonly<Record<JoinMode, string>> = {
  lines:
    'join between points: geodesic, straight grid line, line scale factor by Simpson, elevation factor with the radius in the azimuth',
  polar: 'point from a direction and a distance',
  area: 'area of a closed figure: on the grid, of the geodesic polygon, at the mean height',
};

/** What is said at the end of a run. */
export function joinSummary(mode: JoinMode, { table, joins }: JoinResults, loaded: LoadedStations): readonly string[] {
  const count = table.rows.length;
  const word = { lines: 'line', polar: 'point', area: 'area' }[mode];
  const lines = [`${String(count)} ${word}${count === 1 ? '' : 's'} computed in ${loaded.setup.grid.name}`];
  const without = joins.filter((join) => join.meanHeightM === null).length;
  if (without > 0)
    lines.push(
      `${String(without)} ${without === 1 ? 'line has' : 'lines have'} no ground or slope distance: an ellipsoidal height is not known (give it, or orthometric heights and --geoid)`,
    );
  if (loaded.withoutPlace > 0) lines.push(withoutPlaceLine(loaded.withoutPlace));
  if (loaded.rejected > 0) lines.push(`${String(loaded.rejected)} rows with errors were left out on request`);
  return lines;
}
