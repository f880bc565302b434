import { column } from '../../../io/tables/columns/column.js';
import type { Column } from '../../../io/tables/columns/column.js';
import type { EllipsoidArea, FigureArea } from '../../../records/points/point-join.js';

const FIGURE: readonly Column<never, EllipsoidArea>[] = [
  column({
    name: 'figure',
    kind: 'text',
    get: (area) => area.pointIds.join(' '),
    describe: 'the ids of the corners',
  }),
  column({
    name: 'corners',
    kind: 'whole',
    get: (area) => area.pointIds.length,
    describe: 'how many corners',
  }),
];

const ON_ELLIPSOID: readonly Column<never, EllipsoidArea>[] = [
  column({
    name: 'ellipsoidal_area_m2',
    kind: 'number',
    unit: 'm2',
    get: (area) => area.ellipsoidalAreaM2,
    describe: 'inside geodesic sides',
  }),
  column({
    name: 'ground_area_m2',
    kind: 'number',
    unit: 'm2',
    get: (area) => area.groundAreaM2,
    describe: 'at the mean height of the corners',
  }),
  column({
    name: 'mean_ellipsoidal_height_m',
    kind: 'number',
    unit: 'm',
    get: (area) => area.meanHeightM,
    describe: 'mean height of the corners',
  }),
];

const BOUNDARY: readonly Column<never, EllipsoidArea>[] = [
  column({
    name: 'ellipsoidal_perimeter_m',
    kind: 'number',
    unit: 'm',
    get: (area) => area.ellipsoidalPerimeterM,
    describe: 'length of the boundary',
  }),
  column({
    name: 'order',
    kind: 'word',
    get: (area) => (area.isClockwise ? 'clockwise' : 'anticlockwise'),
    describe: 'the way round in which the corners were given',
  }),
];

/** Columns of areas of closed figures; the figure is the ids of its corners. */
export const AREA_COLUMNS: readonly Column<never, FigureArea>[] = [
  ...FIGURE,
  column({
    name: 'grid_area_m2',
    kind: 'number',
    unit: 'm2',
    get: (area) => area.gridAreaM2,
    describe: 'on the grid',
  }),
  ...ON_ELLIPSOID,
  column({
    name: 'grid_perimeter_m',
    kind: 'number',
    unit: 'm',
    get: (area) => area.gridPerimeterM,
    describe: 'length of the boundary',
  }),
  ...BOUNDARY,
];

/** Of figures that stand in no grid. */
export const ELLIPSOID_AREA_COLUMNS: readonly Column<never, EllipsoidArea>[] = [
  ...FIGURE,
  ...ON_ELLIPSOID,
  ...BOUNDARY,
];
