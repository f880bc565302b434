import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import { metresPerUnitNamed } from '../../../core/grid/systems/grid-units.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { tableSpec } from '../columns/column-map.js';
import type { TableHeader, TableSpec } from '../columns/column-map.js';
import { HEIGHTS } from './place-columns.js';
import { POINT_FILE_COLUMNS } from './point-columns.js';

/** Names of the two grid columns, the one along the parallel first. */
export type AxisNames = readonly [string, string];

/** A grid column of any system: the word, then the unit. */
const GRID_COLUMN = /^(?:easting|westing|northing|southing)_[a-z\d_]+$/u;

/** The columns a file of points can have, given the names of its grid pair (null: it has none that is read). */
export function pointTable(axes: AxisNames | null): TableSpec {
  const { before, pair, after, beside } = POINT_FILE_COLUMNS;
  return tableSpec([...(axes === null ? [] : pair(axes)), ...before, ...after, ...beside], [], HEIGHTS);
}

/** Grid columns that stand in a header under their own names. */
export function gridColumnsIn(header: readonly string[]): readonly string[] {
  return header.map((name) => name.toLowerCase()).filter((name) => GRID_COLUMN.test(name));
}

/** The grid pair a header names, for files whose system is not stated; null where it names none or more than one. */
export function axesInHeader(header: readonly string[], mapped: readonly string[]): AxisNames | null {
  const found = new Set([...gridColumnsIn(header), ...mapped.filter((name) => GRID_COLUMN.test(name))]);
  const suffixes = [...new Set([...found].map((name) => name.slice(name.indexOf('_') + 1)))];
  const pairs: AxisNames[] = suffixes.flatMap((suffix) => [
    [`easting_${suffix}`, `northing_${suffix}`] as const,
    [`westing_${suffix}`, `southing_${suffix}`] as const,
    [`westing_${suffix}`, `northing_${suffix}`] as const,
  ]);
  const whole = pairs.filter(([first, second]) => found.has(first) && found.has(second));
  return whole.length === 1 && found.size === 2 ? (whole[0] ?? null) : null;
}

/** Metres in one unit of a grid column, from the end of its name; null for a unit we do not know by name. */
export function metresPerUnitOf(columnName: string): number | null {
  return metresPerUnitNamed(columnName.slice(columnName.indexOf('_') + 1));
}

/** csv-axes-mismatch for a pair that a header names in a unit we do not know by name: as metres it would be wrong and say nothing; else null. */
export function unitProblem({ source, headerLine }: TableHeader, axes: AxisNames | null): Problem | null {
  if (axes === null || metresPerUnitOf(axes[0]) !== null) return null;
  return errorProblem('csv-axes-mismatch', {
    message: `the grid columns are ${axes.join(', ')}, in a unit that is not known by this name`,
    where: { source, line: headerLine },
    received: axes.join(','),
    hint: 'name the unit in full, such as easting_us_survey_ft or easting_international_ft, or the system with --system',
  });
}

/** csv-axes-mismatch when the header names grid axes or units other than the system's; else null. Never swapped. */
export function axesProblem(table: TableHeader, axes: AxisNames, mapping: ColumnMapping): Problem | null {
  if (axes.some((name) => name in mapping)) return null;
  const found = gridColumnsIn(table.header);
  if (found.length === 0 || axes.every((name) => found.includes(name))) return null;
  const others = found.filter((name) => !axes.includes(name));
  const wordOf = (name: string): string => name.slice(0, name.indexOf('_'));
  const words = axes.map(wordOf);
  const turned = others.some((name) => !words.includes(wordOf(name)));
  const hint = turned
    ? 'the signs and the order of the two kinds of grid differ: name the system the file is in with --system, or transform it first'
    : 'name the system the file is in with --system, or transform it first; only if the file has the right values under other names, map them with --columns';
  return errorProblem('csv-axes-mismatch', {
    message: `the grid columns are ${found.join(', ')} and the system has ${axes.join(', ')}`,
    where: { source: table.source, line: table.headerLine },
    received: found.join(','),
    expected: axes.join(','),
    hint,
  });
}
