import { resolve } from 'node:path';
import type { GeoidGrid } from '../../core/geoid/geoid-grid.js';
import { BUILT_IN_GEOID, readGeoidGrid } from '../../io/grids/geoid-grid-read.js';
import { DEFAULT_GRID_READING } from '../../io/grids/grid-reading.js';
import type { Outcome } from '../../records/outcome.js';

/**
 * A grid of geoid heights: GTX, GeoTIFF, ISG or CSV by the extension of its name, or the built-in `egm96`.
 *
 * Given: its path, from the working folder. Returned: the grid, heights in metres; `createGeoidHeight` of the package's main
 * entry interpolates it. Problems: file-not-found, file-too-large; grid-unsupported, grid-unreadable.
 *
 * @example
 * const grid = await readGeoidFile('geoid.gtx');
 * const model = grid.ok ? createGeoidHeight(grid.value, 'bilinear') : grid;
 */
export async function readGeoidFile(path: string): Promise<Outcome<GeoidGrid>> {
  return readGeoidGrid(path === BUILT_IN_GEOID ? path : resolve(path), DEFAULT_GRID_READING);
}
