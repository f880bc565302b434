import { normaliseAzimuthDeg } from '../../../core/numeric/angle-units.js';
import { formatDms } from '../../../core/numeric/text/angle-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { DECIMALS } from '../../../io/tables/columns/decimals.js';
import type { FigureArea, PointJoin, Station } from '../../../records/points/point-join.js';
import type { RecordColumn } from '../../outputs/record-writer.js';

/** Decimals of seconds of arc: 0.001″ is 0.3 mm at 60 km. */
const ARCSEC_DECIMALS = 3;
/** Decimals of square metres. */
const AREA_DECIMALS = 3;

const cell = (value: number | null, decimals: number): string => (value === null ? '' : formatFixed(value, decimals));
const text = (name: string): RecordColumn => ({ name, kind: 'text' });
const number = (name: string): RecordColumn => ({ name, kind: 'number' });

/** How angles are written: decimal degrees, or degrees, minutes and seconds. */
export type AngleForm = 'degrees' | 'dms';
/** Decimals of a second in directions: 0.01″ is 3 mm at 60 km, 0.001″ the width of a hair. */
const DMS_DECIMALS = 3;

/** A direction as written lies below 360. */
function direction(value: number | null, form: AngleForm): string {
  if (value === null) return '';
  const text = form === 'dms' ? formatDms(value, 'any', DMS_DECIMALS) : formatFixed(value, DECIMALS.degrees);
  return text.startsWith('360') ? direction(0, form) : text;
}

function convergence(value: number, form: AngleForm): string {
  return form === 'dms' ? formatDms(value, 'any', DMS_DECIMALS) : formatFixed(value, DECIMALS.convergence);
}

/** Columns of joins, in order; a south-orientated grid has the bearing from south too. */
export function joinColumns(southOrientated: boolean, form: AngleForm): readonly RecordColumn[] {
  const angle = form === 'dms' ? text : number;
  return [
    text('from_id'),
    text('to_id'),
    number('grid_distance_m'),
    angle('grid_bearing_deg'),
    ...(southOrientated ? [angle('grid_bearing_from_south_deg')] : []),
    ...['azimuth_deg', 'reverse_azimuth_deg', 'convergence_from_deg', 'convergence_to_deg'].map(angle),
    ...[
      'arc_to_chord_from_arcsec',
      'arc_to_chord_to_arcsec',
      'line_scale_factor',
      'ellipsoidal_distance_m',
      'elevation_factor',
      'ground_distance_m',
      'slope_distance_m',
      'ellipsoidal_height_difference_m',
      'orthometric_height_difference_m',
    ].map(number),
  ];
}

/** The cells of a join under `joinColumns`. */
export function joinCells(join: PointJoin, southOrientated: boolean, form: AngleForm): readonly string[] {
  const m = (value: number | null): string => cell(value, DECIMALS.metres);
  return [
    join.from.pointId,
    join.to.pointId,
    m(join.gridDistanceM),
    direction(join.gridBearingDeg, form),
    ...(southOrientated
      ? [direction(join.gridBearingDeg === null ? null : normaliseAzimuthDeg(join.gridBearingDeg + 180), form)]
      : []),
    direction(join.azimuthDeg, form),
    direction(join.reverseAzimuthDeg, form),
    convergence(join.convergenceFromDeg, form),
    convergence(join.convergenceToDeg, form),
    cell(join.arcToChordFromArcsec, ARCSEC_DECIMALS),
    cell(join.arcToChordToArcsec, ARCSEC_DECIMALS),
    cell(join.lineScaleFactor, DECIMALS.factor),
    m(join.ellipsoidalDistanceM),
    cell(join.elevationFactor, DECIMALS.factor),
    m(join.groundDistanceM),
    m(join.slopeDistanceM),
    m(join.ellipsoidalHeightDifferenceM),
    m(join.orthometricHeightDifferenceM),
  ];
}

/** Columns of points set out by direction and distance: a points file. */
export function polarColumns(grid: GridSystem, form: AngleForm): readonly RecordColumn[] {
  const angle = form === 'dms' ? text : number;
  return [
    text('point_id'),
    text('from_id'),
    number(grid.axes[0].columnName),
    number(grid.axes[1].columnName),
    angle('latitude_deg'),
    angle('longitude_deg'),
    number('ellipsoidal_height_m'),
    number('orthometric_height_m'),
  ];
}

/** The cells of such a point under `polarColumns`. */
export function polarCells(point: Station, fromId: string, form: AngleForm): readonly string[] {
  const m = (value: number | null): string => cell(value, DECIMALS.metres);
  return [
    point.pointId,
    fromId,
    m(point.gridFirst),
    m(point.gridSecond),
    place(point.latitudeDeg, 'latitude', form),
    place(point.longitudeDeg, 'longitude', form),
    m(point.ellipsoidalHeightM),
    m(point.orthometricHeightM),
  ];
}

function place(value: number, axis: 'latitude' | 'longitude', form: AngleForm): string {
  return form === 'dms' ? formatDms(value, axis, 5) : formatFixed(value, DECIMALS.degrees);
}

/** Columns of areas of closed figures. */
export const AREA_COLUMNS: readonly RecordColumn[] = [
  text('figure'),
  ...[
    'corners',
    'grid_area_m2',
    'ellipsoidal_area_m2',
    'ground_area_m2',
    'mean_ellipsoidal_height_m',
    'grid_perimeter_m',
    'ellipsoidal_perimeter_m',
  ].map(number),
  text('order'),
];

/** The cells of an area under `AREA_COLUMNS`; the figure is the ids of its corners. */
export function areaCells(area: FigureArea): readonly string[] {
  return [
    area.pointIds.join(' '),
    String(area.pointIds.length),
    cell(area.gridAreaM2, AREA_DECIMALS),
    cell(area.ellipsoidalAreaM2, AREA_DECIMALS),
    cell(area.groundAreaM2, AREA_DECIMALS),
    cell(area.meanHeightM, DECIMALS.metres),
    cell(area.gridPerimeterM, DECIMALS.metres),
    cell(area.ellipsoidalPerimeterM, DECIMALS.metres),
    area.isClockwise ? 'clockwise' : 'anticlockwise',
  ];
}
