import type { GridAxes, GridAxis } from './grid-system.js';
import type { GridUnit } from './grid-units.js';
import type { ProjAxes } from '../../projection/definition/projection-parameters.js';

/**
 * The two axes of a grid, the one along the parallel first, whatever order its registry entry
 * lists. South-orientated grids have westing (the trade's Y) and southing (the trade's X), west-orientated ones westing and
 * northing.
 */
export function gridAxes(axes: ProjAxes, unit: GridUnit): GridAxes {
  const shared = { unitName: unit.name, metresPerUnit: unit.metresPerUnit };
  const column = <T extends string>(name: T): { readonly columnName: string; readonly name: T } => ({
    columnName: `${name}_${unit.columnSuffix}`,
    name,
  });
  const northing = { ...column('northing'), abbreviation: 'N', direction: 'north', ...shared } as const;
  switch (axes) {
    case 'wsu':
    case 'swu':
      return [
        { ...column('westing'), abbreviation: 'Y', direction: 'west', ...shared },
        { ...column('southing'), abbreviation: 'X', direction: 'south', ...shared },
      ];
    case 'wnu':
    case 'nwu':
      return [{ ...column('westing'), abbreviation: 'W', direction: 'west', ...shared }, northing];
    default:
      return [{ ...column('easting'), abbreviation: 'E', direction: 'east', ...shared }, northing];
  }
}

/** What a value of each axis is multiplied by to count east and north. */
export type AxisSigns = readonly [1 | -1, 1 | -1];

/** The signs of two columns of a plane, by their names: a westing counts west and a southing south. */
export function axisSigns(columns: readonly [string, string]): AxisSigns {
  return [columns[0].startsWith('westing') ? -1 : 1, columns[1].startsWith('southing') ? -1 : 1];
}

/** Metres east and north in one unit of each axis of a grid. */
export function unitsEastNorth(axes: GridAxes): readonly [number, number] {
  const [eastSign, northSign] = signsOf(axes);
  return [eastSign * axes[0].metresPerUnit, northSign * axes[1].metresPerUnit];
}

/** The signs of the axes of a grid or of a plan. */
export function signsOf(axes: readonly [Pick<GridAxis, 'direction'>, Pick<GridAxis, 'direction'>]): AxisSigns {
  return [axes[0].direction === 'west' ? -1 : 1, axes[1].direction === 'south' ? -1 : 1];
}
