import type { GridSystem } from './grid-system.js';

/** A parameter of the projection by the name it has for people; null where the projection has none of that name. */
export function gridParameter({ projection }: Pick<GridSystem, 'projection'>, name: string): number | null {
  return projection.parameters.find((own) => own.name === name)?.value ?? null;
}

/** The false easting, metres: where westings are counted beside northings people are told its westing, of the other sign. */
export function falseEastingM(grid: Pick<GridSystem, 'projection'>): number | null {
  const westingM = gridParameter(grid, 'false westing');
  return westingM === null ? gridParameter(grid, 'false easting') : 0 - westingM;
}
