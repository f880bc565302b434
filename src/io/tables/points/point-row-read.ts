import type { ControlRole, PointRow } from '../../../records/points/point-row.js';
import type { CellReader, Column } from '../../csv/cell-read.js';
import { writtenRounding } from '../../../core/numeric/text/written-rounding.js';
import type { AxisNames } from './point-row-columns.js';

/** What every row of a file of points must have; a row whose verdict is `rejected` needs no position. */
export interface PointNeeds {
  /** `grid` and `geographic` ask for that one; `any` for one of them; `none` for neither. */
  readonly position: 'grid' | 'geographic' | 'any' | 'none';
  /** A height column the run cannot do without. */
  readonly height: 'ellipsoidal' | 'orthometric' | 'any' | 'none';
}

/** Turns the current row of a cell reader into a point; null when the reader reported a problem. */
export type ReadPointRow = (row: readonly string[], line: number) => PointRow | null;

const NO_CELLS: readonly string[] = Object.freeze([]);
const ROLES: ReadonlyMap<string, ControlRole> = new Map<string, ControlRole>([
  ['fit', 'fit'],
  ['check', 'check'],
  ['both', 'both'],
]);

/**
 * A reader of one point from one row, which must be current in `cells`. `passIndexes` are the columns that pass through.
 * Problems (in the cell reader): those of its cells; value-missing for half a position or one that is needed.
 */
export function createPointRow(
  cells: CellReader,
  axes: AxisNames | null,
  needs: PointNeeds,
  sourceIndex: number,
  passIndexes: readonly number[],
): ReadPointRow {
  const c = (name: string): Column => cells.column(name);
  const first = c(axes?.[0] ?? '');
  const second = c(axes?.[1] ?? '');
  const latitude = c('latitude_deg');
  const longitude = c('longitude_deg');
  const ellipsoidal = c('ellipsoidal_height_m');
  const orthometric = c('orthometric_height_m');
  const columns = {
    pointId: c('point_id'),
    occupation: c('occupation'),
    code: c('code'),
    geoid: c('geoid_height_m'),
    base: c('base_id'),
    baseline: c('baseline_m'),
    azimuth: c('baseline_azimuth_deg'),
    difference: c('baseline_height_difference_m'),
    from: c('first_epoch_utc'),
    to: c('last_epoch_utc'),
    east: c('sigma_east_m'),
    north: c('sigma_north_m'),
    up: c('sigma_up_m'),
    correlation: c('correlation_en'),
    horizontal: c('sigma_horizontal_m'),
    vertical: c('sigma_vertical_m'),
    factor: c('combined_factor'),
    pole: c('pole_length_m'),
    tilt: c('tilt_deg'),
    toleranceHorizontal: c('tolerance_horizontal_m'),
    toleranceVertical: c('tolerance_vertical_m'),
    role: c('role'),
    source: c('source'),
    verdict: c('verdict'),
    reasons: c('reasons'),
  };
  const empty = (column: Column): boolean => cells.text(column).trim() === '';
  const coarser = (a: Column, b: Column): number =>
    Math.max(writtenRounding(cells.text(a)), writtenRounding(cells.text(b)));
  const bothEmpty = (a: Column, b: Column): boolean => empty(a) && empty(b);

  function missing(column: Column, what: string): void {
    cells.report(
      'value-missing',
      column,
      `there is no ${what}, and this needs one`,
      'fill the cells, or leave the row out',
    );
  }

  function checkNeeds(hasGrid: boolean, hasGeographic: boolean, hasH: boolean, hasOrthometric: boolean): void {
    if (needs.position === 'grid' && !hasGrid) missing(first, 'grid position');
    else if (needs.position === 'geographic' && !hasGeographic) missing(latitude, 'latitude and longitude');
    else if (needs.position === 'any' && !hasGrid && !hasGeographic)
      missing(first.index >= 0 ? first : latitude, 'position');
    if (needs.height === 'ellipsoidal' && !hasH) missing(ellipsoidal, 'ellipsoidal height');
    else if (needs.height === 'orthometric' && !hasOrthometric) missing(orthometric, 'orthometric height');
    else if (needs.height === 'any' && !hasH && !hasOrthometric)
      missing(orthometric.index >= 0 ? orthometric : ellipsoidal, 'height');
  }

  return (row, line) => {
    const hasGrid = !bothEmpty(first, second);
    const hasGeographic = !bothEmpty(latitude, longitude);
    const verdict = cells.text(columns.verdict).trim();
    const pointId = cells.requiredId(columns.pointId);
    const point: PointRow = {
      pointId: pointId ?? '',
      occupation: cells.optionalId(columns.occupation) ?? '',
      code: cells.text(columns.code),
      gridFirst: hasGrid ? cells.requiredNumber(first, -1e9, 1e9) : null,
      gridSecond: hasGrid ? cells.requiredNumber(second, -1e9, 1e9) : null,
      latitudeDeg: hasGeographic ? cells.latitude(latitude, longitude) : null,
      longitudeDeg: hasGeographic ? cells.longitude(longitude) : null,
      ...(hasGrid &&
        hasGeographic && {
          positionRounding: { grid: coarser(first, second), angleDeg: coarser(latitude, longitude) },
        }),
      ellipsoidalHeightM: cells.optionalNumber(ellipsoidal, -12_000, 100_000),
      orthometricHeightM: cells.optionalNumber(orthometric, -12_000, 100_000),
      geoidHeightM: cells.optionalNumber(columns.geoid, -200, 200),
      baseId: cells.optionalId(columns.base),
      baselineM: cells.optionalNumber(columns.baseline, 0, 1e8),
      baselineAzimuthDeg: cells.optionalNumber(columns.azimuth, -360, 360),
      baselineHeightDifferenceM: cells.optionalNumber(columns.difference, -1e6, 1e6),
      firstEpochMs: cells.time(columns.from),
      lastEpochMs: cells.time(columns.to),
      sigmaEastM: cells.optionalNumber(columns.east, 0, 1e6),
      sigmaNorthM: cells.optionalNumber(columns.north, 0, 1e6),
      sigmaUpM: cells.optionalNumber(columns.up, 0, 1e6),
      correlationEn: cells.optionalNumber(columns.correlation, -1, 1),
      sigmaHorizontalM: cells.optionalNumber(columns.horizontal, 0, 1e6),
      sigmaVerticalM: cells.optionalNumber(columns.vertical, 0, 1e6),
      combinedFactor: cells.optionalNumber(columns.factor, 0.5, 2),
      poleLengthM: cells.optionalNumber(columns.pole, 0, 100),
      tiltDeg: cells.optionalNumber(columns.tilt, 0, 90),
      toleranceHorizontalM: cells.optionalNumber(columns.toleranceHorizontal, 0, 1e6),
      toleranceVerticalM: cells.optionalNumber(columns.toleranceVertical, 0, 1e6),
      role: cells.word(columns.role, ROLES),
      source: cells.text(columns.source),
      verdict,
      reasons: cells.text(columns.reasons),
      passThrough: passIndexes.length === 0 ? NO_CELLS : passIndexes.map((index) => row[index] ?? ''),
      place: { sourceIndex, line },
    };
    if (verdict !== 'rejected') checkNeeds(hasGrid, hasGeographic, !empty(ellipsoidal), !empty(orthometric));
    return cells.problems.length > 0 ? null : point;
  };
}
