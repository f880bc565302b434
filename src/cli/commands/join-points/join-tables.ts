import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { AngleForm } from '../../../io/tables/columns/cells/cell-text.js';
import type { Column, DescribedColumn } from '../../../io/tables/columns/column.js';
import type { EllipsoidArea, EllipsoidJoin, EllipsoidStation, PointJoin } from '../../../records/points/point-join.js';
import type { MeasuredFigure } from '../../../tasks/join/measure-figures.js';
import type { PolarPoint } from '../../../tasks/join/set-out-polars.js';
import type { RecordColumn, WrittenRecord } from '../../outputs/record-writer.js';
import { AREA_COLUMNS, ELLIPSOID_AREA_COLUMNS } from './area-columns.js';
import type { JoinMode } from './join-mode.js';
import { ELLIPSOID_COLUMNS, joinColumns, polarColumns } from './join-columns.js';

/** A table of results: what `recordPieces` writes. */
export interface JoinTable {
  readonly columns: readonly RecordColumn[];
  /** What each column holds. */
  readonly described: readonly DescribedColumn[];
  readonly rows: readonly WrittenRecord[];
  readonly schema: string;
  readonly list: string;
}

/** Lines, each from end to end. */
export function lineTable(joins: readonly PointJoin[], grid: GridSystem, form: AngleForm): JoinTable {
  const columns = joinColumns(grid.southOrientated);
  const cellsOf = createCellTexts(columns, form);
  const rows = joins.map((join): WrittenRecord => ({
    cells: cellsOf(join),
    geometry: { kind: 'lines', lines: [[join.from, join.to]] },
  }));
  return { columns: cellColumns(columns, form), described: columns, rows, schema: 'pegbook-joins', list: 'joins' };
}

/** Points set out by direction and distance. */
export function polarTable(points: readonly PolarPoint[], grid: GridSystem, form: AngleForm): JoinTable {
  const columns = polarColumns(grid);
  const cellsOf = createCellTexts(columns, form);
  const rows = points.map((polar): WrittenRecord => ({
    cells: cellsOf(polar),
    geometry: { kind: 'point', place: polar.point, ellipsoidalHeightM: polar.point.ellipsoidalHeightM },
  }));
  return {
    columns: cellColumns(columns, form),
    described: columns,
    rows,
    schema: 'pegbook-polar-points',
    list: 'points',
  };
}

/** Closed figures, their rings anticlockwise. */
export function areaTable(figures: readonly MeasuredFigure[]): JoinTable {
  return tableOfAreas(figures, AREA_COLUMNS);
}

/** The same of places that stand in no grid. */
export function ellipsoidAreaTable(figures: readonly MeasuredFigure<EllipsoidArea, EllipsoidStation>[]): JoinTable {
  return tableOfAreas(figures, ELLIPSOID_AREA_COLUMNS);
}

/** Lines between places that stand in no grid. */
export function ellipsoidLineTable(joins: readonly EllipsoidJoin[], form: AngleForm): JoinTable {
  const cellsOf = createCellTexts(ELLIPSOID_COLUMNS, form);
  const rows = joins.map((join): WrittenRecord => ({
    cells: cellsOf(join),
    geometry: { kind: 'lines', lines: [[join.from, join.to]] },
  }));
  const columns = cellColumns(ELLIPSOID_COLUMNS, form);
  return { columns, described: ELLIPSOID_COLUMNS, rows, schema: 'pegbook-joins', list: 'joins' };
}

function tableOfAreas<A extends EllipsoidArea>(
  figures: readonly MeasuredFigure<A, EllipsoidStation>[],
  columns: readonly Column<never, A>[],
): JoinTable {
  const cellsOf = createCellTexts(columns);
  const rows = figures.map(({ area, corners }): WrittenRecord => {
    const ring = area.isClockwise ? [...corners].reverse() : corners;
    return { cells: cellsOf(area), geometry: { kind: 'areas', rings: [[...ring, ...ring.slice(0, 1)]] } };
  });
  return { columns: cellColumns(columns), described: columns, rows, schema: 'pegbook-areas', list: 'areas' };
}

/** Names of the columns of what is asked for. */
export function columnsOfMode(mode: JoinMode, grid: GridSystem): readonly string[] {
  const columns = { lines: joinColumns(grid.southOrientated), polar: polarColumns(grid), area: AREA_COLUMNS };
  return columns[mode].map(({ name }) => name);
}
