import { column } from '../../../io/tables/columns/column.js';
import type { Column, ColumnUnit } from '../../../io/tables/columns/column.js';
import { DECIMALS } from '../../../io/tables/columns/cells/decimals.js';
import type { DesignedPoint } from '../../../tasks/design/run-design.js';

const number = (
  name: string,
  decimals: number,
  get: (point: DesignedPoint) => number,
  describe: string,
  unit?: ColumnUnit,
): Column<never, DesignedPoint> =>
  column({ name, kind: 'number', ...(unit !== undefined && { unit }), decimals, get, describe });

/** Columns of the points of a grid that was designed, in order. */
export const DESIGN_COLUMNS: readonly Column<never, DesignedPoint>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ station }) => station.pointId, describe: 'the point' }),
  number('easting_m', DECIMALS.metres, ({ eastingM }) => eastingM, 'on the project grid'),
  number('northing_m', DECIMALS.metres, ({ northingM }) => northingM, 'on the project grid'),
  number('latitude_deg', DECIMALS.degrees, ({ station }) => station.latitudeDeg, 'its place', 'deg'),
  number('longitude_deg', DECIMALS.degrees, ({ station }) => station.longitudeDeg, 'its place', 'deg'),
  number('height_m', DECIMALS.metres, ({ heightM }) => heightM, 'that the distortion was computed with', 'm'),
  number(
    'point_scale_factor',
    DECIMALS.factor,
    ({ pointScaleFactor }) => pointScaleFactor,
    'grid length over ellipsoidal length',
  ),
  number(
    'elevation_factor',
    DECIMALS.factor,
    (point) => point.elevationFactor,
    'ellipsoidal length over ground length',
  ),
  number(
    'combined_factor',
    DECIMALS.factor,
    (point) => point.pointScaleFactor * point.elevationFactor,
    'grid length over ground length',
  ),
  number(
    'convergence_deg',
    6,
    ({ convergenceDeg }) => convergenceDeg,
    'positive where grid north is east of true north',
    'deg',
  ),
  number('distortion_ppm', 2, ({ distortion }) => distortion * 1e6, 'combined factor minus 1'),
  number('distortion_mm_per_100m', 3, ({ distortion }) => distortion * 1e5, 'the same, of 100 m'),
];
