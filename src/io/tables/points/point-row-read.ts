import type { Draft } from '../../../records/draft.js';
import type { PassThroughColumn } from '../columns/column-map.js';
import { createRowFiller, numberRead } from '../columns/row-reader.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { FoundColumn, RowCells } from '../../csv/cell-read.js';
import { cellFactor } from '../columns/cells/file-cells.js';
import { writtenRounding } from '../../../core/numeric/text/written-rounding.js';
import { POINT_FILE_COLUMNS, pointColumns } from './point-columns.js';
import type { AxisNames } from './point-row-columns.js';

/** What every row of a file of points must have; a row whose verdict is `rejected` needs no position. */
export interface PointNeeds {
  /** `grid` and `geographic` ask for that one; `any` for one of them; `none` for neither. */
  readonly position: 'grid' | 'geographic' | 'any' | 'none';
  /** A height column the run cannot do without. */
  readonly height: 'ellipsoidal' | 'orthometric' | 'any' | 'none';
}

/** Turns the current row of a cell reader into a point; null when the reader reported a problem. */
export type ReadPointRow = (line: number) => PointRow | null;

const NO_CELLS: readonly string[] = Object.freeze([]);
/** Names that no column has. */
const NO_AXES: AxisNames = ['', ''];

/** A point of which nothing is known. */
export function blankPoint(sourceIndex: number, line: number): Draft<PointRow> {
  return {
    pointId: '',
    occupation: '',
    code: '',
    gridFirst: null,
    gridSecond: null,
    latitudeDeg: null,
    longitudeDeg: null,
    ellipsoidalHeightM: null,
    orthometricHeightM: null,
    geoidHeightM: null,
    baseId: null,
    baselineM: null,
    baselineAzimuthDeg: null,
    baselineHeightDifferenceM: null,
    firstEpochMs: null,
    lastEpochMs: null,
    sigmaEastM: null,
    sigmaNorthM: null,
    sigmaUpM: null,
    correlationEn: null,
    sigmaHorizontalM: null,
    sigmaVerticalM: null,
    combinedFactor: null,
    poleLengthM: null,
    tiltDeg: null,
    toleranceHorizontalM: null,
    toleranceVerticalM: null,
    role: null,
    source: '',
    verdict: '',
    reasons: '',
    passThrough: NO_CELLS,
    place: { sourceIndex, line },
  };
}

/**
 * A reader of one point from one row, which must be current in `cells`. `passing` are the columns that pass through.
 * Problems (in the cell reader): those of its cells; value-missing for half a position or one that is needed.
 */
export function createPointRow(
  cells: RowCells,
  axes: AxisNames | null,
  needs: PointNeeds,
  sourceIndex: number,
  passing: readonly PassThroughColumn[],
): ReadPointRow {
  const { before, after, beside } = POINT_FILE_COLUMNS;
  const names = axes ?? NO_AXES;
  const position = pointColumns(names);
  const c = (name: string): FoundColumn => cells.column(name);
  const [first, second] = [c(names[0]), c(names[1])];
  const latitude = c('latitude_deg');
  const longitude = c('longitude_deg');
  const ellipsoidal = c('ellipsoidal_height_m');
  const orthometric = c('orthometric_height_m');
  const readFirst = numberRead(first.name, position, cells, true);
  const readSecond = numberRead(second.name, position, cells, true);
  const readLatitude = numberRead(latitude.name, position, cells, true);
  const readLongitude = numberRead(longitude.name, position, cells, true);
  const fillBefore = createRowFiller(before, cells);
  const fillAfter = createRowFiller([...after, ...beside], cells);
  const coarser = (a: FoundColumn, b: FoundColumn): number => Math.max(roundingOf(a, cells), roundingOf(b, cells));
  const bothEmpty = (a: FoundColumn, b: FoundColumn): boolean => cells.isEmpty(a) && cells.isEmpty(b);

  function missing(column: FoundColumn, what: string): void {
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

  return (line) => {
    const hasGrid = !bothEmpty(first, second);
    const hasGeographic = !bothEmpty(latitude, longitude);
    const point = blankPoint(sourceIndex, line);
    fillBefore(point);
    if (hasGrid) {
      point.gridFirst = readFirst();
      point.gridSecond = readSecond();
    }
    if (hasGeographic) {
      point.latitudeDeg = readLatitude();
      point.longitudeDeg = readLongitude();
    }
    if (hasGrid && hasGeographic)
      point.positionRounding = { grid: coarser(first, second), angleDeg: coarser(latitude, longitude) };
    fillAfter(point);
    if (passing.length > 0) point.passThrough = passing.map(cells.raw);
    if (point.verdict !== 'rejected')
      checkNeeds(hasGrid, hasGeographic, !cells.isEmpty(ellipsoidal), !cells.isEmpty(orthometric));
    return cells.problems.length > 0 ? null : point;
  };
}

/** Half a unit of the last digit of a cell; one in another unit is rounded in that unit. */
function roundingOf(column: FoundColumn, cells: RowCells): number {
  return writtenRounding(cells.raw(column)) * (column.reading === null ? 1 : cellFactor(column.name, column.reading));
}
