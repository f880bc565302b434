import type { GridLevel } from './geoid-grid.js';
import type { GeoidModel } from './geoid-height.js';
import { columnOf, rowOf } from './geoid-height.js';
import { STENCIL_WIDTHS, firstColumn, firstRow, wrappedColumn } from './grid-stencil.js';

/** The nodes that a geoid height is interpolated from. */
export interface GeoidStencil {
  /** Of the node in the south-west, degrees; the longitude as the grid counts it. */
  readonly southDeg: number;
  readonly westDeg: number;
  /** From node to node, degrees. */
  readonly latitudeStepDeg: number;
  readonly longitudeStepDeg: number;
  /** From the node in the south-west to the place, in steps. */
  readonly columnsEast: number;
  readonly rowsNorth: number;
  /** Heights of the nodes, metres: rows from the south, each from the west. */
  readonly heightsM: readonly (readonly number[])[];
}

/**
 * The nodes around a place that `heightAt` weights, in the level that it reads; null where it gives null.
 * Given: the model; latitude and longitude, degrees, as `heightAt` takes them.
 */
export function geoidStencil(model: GeoidModel, latitudeDeg: number, longitudeDeg: number): GeoidStencil | null {
  if (model.heightAt(latitudeDeg, longitudeDeg) === null) return null;
  const width = STENCIL_WIDTHS[model.interpolation];
  for (const level of model.grid.levels) {
    const [row, column] = [rowOf(level, latitudeDeg), columnOf(level, longitudeDeg)];
    if (row >= 0 && column >= 0) return stencilOf(level, row, column, width);
  }
  return null;
}

function stencilOf(level: GridLevel, row: number, column: number, width: number): GeoidStencil {
  const [row0, column0] = [firstRow(level, row, width), firstColumn(level, column, width)];
  const steps = Array.from({ length: width }, (_, at) => at);
  return {
    southDeg: level.southDeg + row0 * level.latitudeStepDeg,
    westDeg: level.westDeg + column0 * level.longitudeStepDeg,
    latitudeStepDeg: level.latitudeStepDeg,
    longitudeStepDeg: level.longitudeStepDeg,
    columnsEast: column - column0,
    rowsNorth: row - row0,
    heightsM: steps.map((north) =>
      steps.map(
        (east) =>
          (level.values[(row0 + north) * level.columns + wrappedColumn(level, column0 + east)] as number) * level.unitM,
      ),
    ),
  };
}
