import { axisSigns, signsOf } from '../../core/grid/systems/grid-axes.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { metresPerUnitOf } from '../../io/tables/points/point-row-columns.js';
import { present } from '../../records/present.js';
import type { AxisNames } from '../../io/tables/points/point-row-columns.js';
import type { CheckAxes } from '../../tasks/check/judge/check-tolerances-setup.js';

/** The axes of the system, or those the file names; east and north where it has no grid. */
export function checkAxes(grid: GridSystem | null, names: AxisNames | null): CheckAxes {
  if (grid !== null)
    return {
      first: grid.axes[0].name,
      second: grid.axes[1].name,
      signs: signsOf(grid.axes),
      metresPerUnit: grid.axes[0].metresPerUnit,
    };
  if (names === null) return { first: 'east', second: 'north', signs: [1, 1], metresPerUnit: 1 };
  const word = (name: string): string => name.slice(0, name.indexOf('_'));
  return {
    first: word(names[0]),
    second: word(names[1]),
    signs: axisSigns(names),
    // A pair in any other unit was refused when its file was opened.
    metresPerUnit: present(metresPerUnitOf(names[0]), 'a unit that is known'),
  };
}
