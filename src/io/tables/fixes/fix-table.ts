import type { Fix } from '../../../records/points/fix.js';
import { mappedHeaders } from '../../../records/settings/column-reading.js';
import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import { tableSpec } from '../columns/column-map.js';
import type { TableHeader, TableSpec } from '../columns/column-map.js';
import type { AxisNames } from '../points/point-row-columns.js';
import { COMMON_FIX_COLUMNS, HEIGHT_RANGE } from './fix-columns.js';

/** The grid pair of fixes that are grid coordinates. */
function pair([first, second]: AxisNames): readonly Column<Fix>[] {
  const describe = 'the grid pair, named by its axes and unit, of the system that `system.fixes` names';
  return [first, second].map((name) => column({ name, kind: 'number', isFilled: true, describe }));
}

/** A height above the geoid, in place of one above the ellipsoid. */
const ORTHOMETRIC: Column<Fix> = column({
  name: 'orthometric_height_m',
  kind: 'number',
  unit: 'm',
  isFilled: true,
  range: HEIGHT_RANGE,
  describe: 'height above the geoid, where there is no ellipsoidal height; needs `height.geoid`',
});

/** Everything that a table of fixes can have, for pages and help. */
export const FIX_COLUMNS: readonly Column<Fix>[] = withPosition(['easting_m', 'northing_m'], true);

/** The columns with the grid pair and the height above the geoid where they stand in for others. */
function withPosition(axes: AxisNames | null, isOrthometric: boolean): readonly Column<Fix>[] {
  const after = COMMON_FIX_COLUMNS.findIndex(({ name }) => name === 'ellipsoidal_height_m') + 1;
  return [
    ...COMMON_FIX_COLUMNS.slice(0, after),
    ...(isOrthometric ? [ORTHOMETRIC] : []),
    ...COMMON_FIX_COLUMNS.slice(after, after + 3),
    ...(axes === null ? [] : pair(axes)),
    ...COMMON_FIX_COLUMNS.slice(after + 3),
  ];
}

/** What the header of a table of fixes is compared with, and its columns. */
export interface FixTable {
  readonly spec: TableSpec;
  readonly columns: readonly Column<Fix>[];
  /** Names of the grid pair that is read; null: positions are geographic or geocentric. */
  readonly axes: AxisNames | null;
}

/**
 * The columns that count in a table of fixes: a grid pair where there is no latitude and longitude, a height above the geoid where
 * there is none above the ellipsoid. What does not count passes through.
 * Given: the header; the map; the names of the axes of the system of grid coordinates, null where none is stated.
 */
export function fixTable(
  { header, hasHeader }: Pick<TableHeader, 'header' | 'hasHeader'>,
  mapping: ColumnMapping,
  axes: AxisNames | null,
): FixTable {
  const mapped = new Set(Object.values(mapping).flatMap((source) => mappedHeaders(source)));
  const own = new Set(hasHeader ? header.filter((name) => !mapped.has(name)).map((name) => name.toLowerCase()) : []);
  const has = (name: string): boolean => Object.hasOwn(mapping, name) || own.has(name);
  const isGeographic = has('latitude_deg') || has('longitude_deg') || has('x_m');
  const used = axes !== null && !isGeographic && axes.some(has) ? axes : null;
  const isOrthometric = !has('ellipsoidal_height_m') && has('orthometric_height_m');
  const height = isOrthometric ? 'orthometric_height_m' : 'ellipsoidal_height_m';
  const columns = withPosition(used, isOrthometric);
  const sets = [
    ['latitude_deg', 'longitude_deg', height],
    ['x_m', 'y_m', 'z_m'],
    ...(used === null ? [] : [[...used, height]]),
  ];
  const heights = ['ellipsoidal_height_m', 'orthometric_height_m', 'z_m'];
  return { spec: tableSpec(columns, [{ what: 'a position', sets }], heights), columns, axes: used };
}
