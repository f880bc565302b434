import { unitOfSize } from '../../core/grid/systems/grid-units.js';
import type { ReportAxis } from '../../records/reports/reduction-report.js';

/** The axes of a plan, across and up. */
export type ReportAxes = readonly [ReportAxis, ReportAxis];

/** The axes of a plane that is no grid, such as a site, by the names of its two columns. */
export function columnAxes([first, second]: readonly [string, string], metresPerUnit: number): ReportAxes {
  const across = axisOfColumn(first, 'east', metresPerUnit);
  const up = axisOfColumn(second, 'north', metresPerUnit);
  // The trade's Y stands beside its X; beside a northing a westing is a W.
  return [up.direction === 'north' && across.direction === 'west' ? { ...across, abbreviation: 'W' } : across, up];
}

function axisOfColumn(columnName: string, usual: 'east' | 'north', metresPerUnit: number): ReportAxis {
  const name = nameOf(columnName);
  const direction = name === 'westing' ? 'west' : name === 'southing' ? 'south' : usual;
  const unitName = unitNameOf(columnName, metresPerUnit);
  const abbreviation = { east: 'E', north: 'N', west: 'Y', south: 'X' }[direction];
  return { columnName, name, abbreviation, direction, unitName, metresPerUnit };
}

/** Axes east and north of a place that `words` names, such as `of the middle`. */
export function localAxes(words: string): ReportAxes {
  return [
    {
      columnName: 'east_m',
      name: `east ${words}`,
      abbreviation: 'e',
      direction: 'east',
      unitName: 'metre',
      metresPerUnit: 1,
    },
    {
      columnName: 'north_m',
      name: `north ${words}`,
      abbreviation: 'n',
      direction: 'north',
      unitName: 'metre',
      metresPerUnit: 1,
    },
  ];
}

function nameOf(columnName: string): string {
  return columnName.slice(0, columnName.indexOf('_'));
}

function unitNameOf(columnName: string, metresPerUnit: number): string {
  return unitOfSize(metresPerUnit)?.name ?? columnName.slice(columnName.indexOf('_') + 1);
}
