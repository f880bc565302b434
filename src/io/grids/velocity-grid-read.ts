import type { VelocityLevels } from '../../core/frames/plates/velocity-grid.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { entryAt } from '../../records/present.js';
import type { GridReading } from './grid-reading.js';

/** Velocities in metres per year. Reference: GTG, TYPE VELOCITY. */
const VELOCITIES = {
  type: 'VELOCITY',
  words: 'velocities',
  samples: ['east_velocity', 'north_velocity', 'up_velocity'],
  units: {
    'millimetres per year': 0.001,
    'millimeters per year': 0.001,
    'mm/yr': 0.001,
    'metres per year': 1,
    'meters per year': 1,
    'm/yr': 1,
  },
  unit: 'millimetres per year',
} as const;

/** Reads a geodetic TIFF of velocities. Given: its bytes. Returned: components in metres per year, and its frame. Problems: those of `readGeotiffComponents`. */
export async function readVelocityGrid(
  bytes: Uint8Array,
  reading: GridReading,
): Promise<Outcome<{ readonly frame: string | null; readonly levels: VelocityLevels }>> {
  const { readGeotiffComponents } = await import('./tiff/geotiff-components.js');
  const read = await readGeotiffComponents(bytes, VELOCITIES, reading);
  if (!read.ok) return read;
  const { frame, levels } = read.value;
  return success({ frame, levels: { east: entryAt(levels, 0), north: entryAt(levels, 1), up: entryAt(levels, 2) } });
}
