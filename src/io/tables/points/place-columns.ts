import type { PlaceRow } from '../../../records/points/place-row.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import type { AxisNames } from './point-row-columns.js';

/** What the position columns of a file are. */
export type PlaceKind = 'projected' | 'geographic' | 'geocentric' | 'topocentric';

/** Columns of a position in degrees. */
export const GEOGRAPHIC: readonly ['latitude_deg', 'longitude_deg'] = ['latitude_deg', 'longitude_deg'];
/** Columns of a geocentric position, and of one about an origin. */
export const GEOCENTRIC: readonly [string, string, string] = ['x_m', 'y_m', 'z_m'];
export const TOPOCENTRIC: readonly [string, string, string] = ['east_m', 'north_m', 'up_m'];
/** Columns of the heights that may stand beside a position. */
export const HEIGHTS: readonly ['ellipsoidal_height_m', 'orthometric_height_m'] = [
  'ellipsoidal_height_m',
  'orthometric_height_m',
];

/** Names of the position columns of a kind of file; none where the pair of a grid is not known. */
export function positionNames(kind: PlaceKind, axes: AxisNames | null): readonly string[] {
  switch (kind) {
    case 'geographic':
      return GEOGRAPHIC;
    case 'geocentric':
      return GEOCENTRIC;
    case 'topocentric':
      return TOPOCENTRIC;
    case 'projected':
      // A plane whose axes nothing names has no columns to be read by.
      return axes ?? [];
  }
}

/**
 * Columns of points to be transformed: identifier, position in the file's own system, heights. `needs` is the height that
 * must be there. Beside three axes an ellipsoidal height is known, and not read.
 */
export function placeColumns(
  kind: PlaceKind,
  axes: AxisNames | null,
  needs: 'ellipsoidal' | 'orthometric' | null,
): readonly Column<PlaceRow>[] {
  const isSpace = kind === 'geocentric' || kind === 'topocentric';
  const puts: readonly Column<PlaceRow>['put'][] = [
    (row, value: number) => (row.first = value),
    (row, value: number) => (row.second = value),
    (row, value: number) => (row.third = value),
  ];
  return [
    column({
      name: 'point_id',
      kind: 'id',
      isNeeded: true,
      put: (row, id) => (row.pointId = id),
      describe: 'identifier of the point',
    }),
    ...positionNames(kind, axes).map((name, index): Column<PlaceRow> => {
      const angle = index === 0 ? 'latitude' : 'longitude';
      return {
        ...column({
          name,
          kind: kind === 'geographic' ? angle : 'number',
          isFilled: true,
          describe: 'the position in the system of the file',
        }),
        put: puts[index] ?? null,
      };
    }),
    column({
      name: HEIGHTS[0],
      kind: 'number',
      unit: 'm',
      range: [-12_000, 100_000],
      isNeeded: needs === 'ellipsoidal',
      ...(!isSpace && { put: (row: { ellipsoidalHeightM: number | null }, h: number) => (row.ellipsoidalHeightM = h) }),
      describe: 'height above the ellipsoid',
    }),
    column({
      name: HEIGHTS[1],
      kind: 'number',
      unit: 'm',
      range: [-12_000, 100_000],
      isNeeded: needs === 'orthometric',
      put: (row, height) => (row.orthometricHeightM = height),
      describe: 'height above the geoid',
    }),
  ];
}
