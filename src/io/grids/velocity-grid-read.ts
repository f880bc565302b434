import type { VelocityLevels } from '../../core/frames/plates/velocity-grid.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { entryAt } from '../../records/present.js';
import type { GridReading } from './grid-reading.js';

/** The ground moves by a tenth of this, and ice by more: a larger one is of another unit. */
const FASTEST = { most: 1, unit: 'm a year', words: 'velocities of the ground' };

/** Reads a geodetic TIFF of velocities. Given: its bytes. Returned: components in metres per year, and its frame. Problems: those of `readGeotiffComponents`. */
export async function readVelocityGrid(
  bytes: Uint8Array,
  reading: GridReading,
): Promise<Outcome<{ readonly frame: string | null; readonly levels: VelocityLevels }>> {
  const { readGeotiffComponents } = await import('./tiff/geotiff-components.js');
  const { VELOCITIES } = await import('./tiff/geotiff-units.js');
  const samples = ['east_velocity', 'north_velocity', 'up_velocity'].map((name) => ({
    name,
    units: VELOCITIES,
    bound: FASTEST,
  }));
  const read = await readGeotiffComponents(bytes, [{ type: 'VELOCITY', samples }], 'velocities', reading);
  if (!read.ok) return read;
  const { frame, levels } = read.value;
  return success({ frame, levels: { east: entryAt(levels, 0), north: entryAt(levels, 1), up: entryAt(levels, 2) } });
}
