import type { GridAxis } from './grid-system.js';
import type { GridUnit } from './grid-units.js';
import type { ProjAxes } from '../../projection/definition/projection-parameters.js';

/**
 * The two axes of a grid, the one along the parallel first, whatever order its registry entry
 * lists. South-orientated grids have westing (the trade's Y) and southing (the trade's X).
 */
export function gridAxes(axes: ProjAxes, unit: GridUnit): readonly [GridAxis, GridAxis] {
  const shared = { unitName: unit.name, metresPerUnit: unit.metresPerUnit };
  if (axes === 'wsu' || axes === 'swu') {
    return [
      { columnName: `westing_${unit.columnSuffix}`, name: 'westing', abbreviation: 'Y', direction: 'west', ...shared },
      {
        columnName: `southing_${unit.columnSuffix}`,
        name: 'southing',
        abbreviation: 'X',
        direction: 'south',
        ...shared,
      },
    ];
  }
  return [
    { columnName: `easting_${unit.columnSuffix}`, name: 'easting', abbreviation: 'E', direction: 'east', ...shared },
    { columnName: `northing_${unit.columnSuffix}`, name: 'northing', abbreviation: 'N', direction: 'north', ...shared },
  ];
}
