import { normaliseAzimuthDeg } from '../../../core/numeric/angle-units.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { column } from '../../../io/tables/columns/column.js';
import type { Column } from '../../../io/tables/columns/column.js';
import { DECIMALS } from '../../../io/tables/columns/cells/decimals.js';
import type { EllipsoidJoin, PointJoin } from '../../../records/points/point-join.js';
import type { PolarPoint } from '../../../tasks/join/set-out-polars.js';

const FROM_SOUTH = 'grid_bearing_from_south_deg';

const ENDS: readonly Column<never, EllipsoidJoin>[] = [
  column({
    name: 'from_id',
    kind: 'id',
    get: ({ from }) => from.pointId,
    describe: 'where the line begins, and where it ends',
  }),
  column({
    name: 'to_id',
    kind: 'id',
    get: ({ to }) => to.pointId,
    describe: 'where the line begins, and where it ends',
  }),
];

const GRID_LINE: readonly Column<never, PointJoin>[] = [
  column({
    name: 'grid_distance_m',
    kind: 'number',
    unit: 'm',
    get: (join) => join.gridDistanceM,
    describe: 'straight on the grid',
  }),
  column({
    name: 'grid_bearing_deg',
    kind: 'direction',
    unit: 'deg',
    get: (join) => join.gridBearingDeg,
    describe: 'clockwise from grid north',
  }),
  column({
    name: FROM_SOUTH,
    kind: 'direction',
    unit: 'deg',
    get: ({ gridBearingDeg }) => (gridBearingDeg === null ? null : normaliseAzimuthDeg(gridBearingDeg + 180)),
    describe: 'clockwise from grid south',
  }),
];

const AZIMUTHS: readonly Column<never, EllipsoidJoin>[] = [
  column({
    name: 'azimuth_deg',
    kind: 'direction',
    unit: 'deg',
    get: (join) => join.azimuthDeg,
    describe: 'of the geodesic at its beginning, clockwise from true north',
  }),
  column({
    name: 'reverse_azimuth_deg',
    kind: 'direction',
    unit: 'deg',
    get: (join) => join.reverseAzimuthDeg,
    describe: 'at the far end, back to the near end',
  }),
];

const GRID_FACTORS: readonly Column<never, PointJoin>[] = [
  column({
    name: 'convergence_from_deg',
    kind: 'angle',
    unit: 'deg',
    decimals: DECIMALS.convergence,
    get: (join) => join.convergenceFromDeg,
    describe: 'convergence at the two ends',
  }),
  column({
    name: 'convergence_to_deg',
    kind: 'angle',
    unit: 'deg',
    decimals: DECIMALS.convergence,
    get: (join) => join.convergenceToDeg,
    describe: 'convergence at the two ends',
  }),
  column({
    name: 'arc_to_chord_from_arcsec',
    kind: 'number',
    unit: 'arcsec',
    get: (join) => join.arcToChordFromArcsec,
    describe: 'arc-to-chord correction at the two ends',
  }),
  column({
    name: 'arc_to_chord_to_arcsec',
    kind: 'number',
    unit: 'arcsec',
    get: (join) => join.arcToChordToArcsec,
    describe: 'arc-to-chord correction at the two ends',
  }),
  column({
    name: 'line_scale_factor',
    kind: 'number',
    decimals: DECIMALS.factor,
    get: (join) => join.lineScaleFactor,
    describe: 'scale of the projection along the line',
  }),
];

const ON_ELLIPSOID: readonly Column<never, EllipsoidJoin>[] = [
  column({
    name: 'ellipsoidal_distance_m',
    kind: 'number',
    unit: 'm',
    get: (join) => join.ellipsoidalDistanceM,
    describe: 'length of the geodesic',
  }),
  column({
    name: 'elevation_factor',
    kind: 'number',
    decimals: DECIMALS.factor,
    get: (join) => join.elevationFactor,
    describe: 'ellipsoid over ground at the mean height',
  }),
  column({
    name: 'ground_distance_m',
    kind: 'number',
    unit: 'm',
    get: (join) => join.groundDistanceM,
    describe: 'horizontal at the mean height of the ends',
  }),
  column({
    name: 'slope_distance_m',
    kind: 'number',
    unit: 'm',
    get: (join) => join.slopeDistanceM,
    describe: 'straight, mark to mark',
  }),
  column({
    name: 'ellipsoidal_height_difference_m',
    kind: 'number',
    unit: 'm',
    get: (join) => join.ellipsoidalHeightDifferenceM,
    describe: 'far end minus near end',
  }),
  column({
    name: 'orthometric_height_difference_m',
    kind: 'number',
    unit: 'm',
    get: (join) => join.orthometricHeightDifferenceM,
    describe: 'far end minus near end',
  }),
];

const JOIN_COLUMNS: readonly Column<never, PointJoin>[] = [
  ...ENDS,
  ...GRID_LINE,
  ...AZIMUTHS,
  ...GRID_FACTORS,
  ...ON_ELLIPSOID,
];

/** Columns of lines between points of a geographic system, in order. */
export const ELLIPSOID_COLUMNS: readonly Column<never, EllipsoidJoin>[] = [...ENDS, ...AZIMUTHS, ...ON_ELLIPSOID];

/** Columns of joins, in order; a south-orientated grid has the bearing from south too. */
export function joinColumns(southOrientated: boolean): readonly Column<never, PointJoin>[] {
  return southOrientated ? JOIN_COLUMNS : JOIN_COLUMNS.filter(({ name }) => name !== FROM_SOUTH);
}

/** Columns of points set out by direction and distance: a points file. */
export function polarColumns(grid: GridSystem): readonly Column<never, PolarPoint>[] {
  const [first, second] = grid.axes;
  return [
    column({
      name: 'point_id',
      kind: 'id',
      get: ({ point }) => point.pointId,
      describe: 'the new point',
    }),
    column({
      name: 'from_id',
      kind: 'id',
      get: ({ fromId }) => fromId,
      describe: 'the known point',
    }),
    column({
      name: first.columnName,
      kind: 'number',
      decimals: DECIMALS.metres,
      get: ({ point }) => point.gridFirst,
      describe: 'the grid pair',
    }),
    column({
      name: second.columnName,
      kind: 'number',
      decimals: DECIMALS.metres,
      get: ({ point }) => point.gridSecond,
      describe: 'the grid pair',
    }),
    column({
      name: 'latitude_deg',
      kind: 'latitude',
      unit: 'deg',
      get: ({ point }) => point.latitudeDeg,
      describe: 'latitude, north positive',
    }),
    column({
      name: 'longitude_deg',
      kind: 'longitude',
      unit: 'deg',
      get: ({ point }) => point.longitudeDeg,
      describe: 'longitude, east positive',
    }),
    column({
      name: 'ellipsoidal_height_m',
      kind: 'number',
      unit: 'm',
      get: ({ point }) => point.ellipsoidalHeightM,
      describe: 'height above the ellipsoid',
    }),
    column({
      name: 'orthometric_height_m',
      kind: 'number',
      unit: 'm',
      get: ({ point }) => point.orthometricHeightM,
      describe: 'height above the geoid',
    }),
  ];
}
