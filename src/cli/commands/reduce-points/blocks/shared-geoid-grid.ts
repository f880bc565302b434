import type { GeoidGrid, GridValues } from '../../../../core/geoid/geoid-grid.js';

/** The same grid with its values in memory that all threads see, so that none of them reads the file or holds a copy. */
export function sharedGeoidGrid(grid: GeoidGrid): GeoidGrid {
  return { ...grid, levels: grid.levels.map((level) => ({ ...level, values: sharedValues(level.values) })) };
}

function sharedValues(values: GridValues): GridValues {
  if (values.buffer instanceof SharedArrayBuffer) return values;
  const memory = new SharedArrayBuffer(values.byteLength);
  const shared =
    values instanceof Float64Array
      ? new Float64Array(memory)
      : values instanceof Float32Array
        ? new Float32Array(memory)
        : new Int16Array(memory);
  shared.set(values);
  return shared;
}
