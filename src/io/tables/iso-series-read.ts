import type { ColumnMapping } from '../../records/settings/column-reading.js';
import type { IsoMeasurement } from '../../core/quality/standards/iso-17123-8.js';
import { failure } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { present } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import type { CsvTable } from '../csv/csv-read.js';
import { column } from './columns/column.js';
import type { Column } from './columns/column.js';
import { readWholeTable } from './columns/read-table.js';
import { HEIGHTS } from './points/place-columns.js';
import { axesInHeader, metresPerUnitOf, unitProblem } from './points/point-row-columns.js';
import type { AxisNames } from './points/point-row-columns.js';

/** The columns of the measurements of the field procedure, given the pair of the grid and metres in one of its units. */
export function seriesColumns(axes: AxisNames, metresPerUnit: number): readonly Column<IsoMeasurement>[] {
  const height = (name: string): Column<IsoMeasurement> =>
    column({
      name,
      kind: 'number',
      unit: 'm',
      isFilled: true,
      put: (row, heightM) => (row.heightM = heightM),
      describe: 'the height; one of the two',
    });
  return [
    column({
      name: 'series',
      kind: 'whole',
      isNeeded: true,
      range: [1, 1000],
      put: (row, series) => (row.series = series),
      describe: 'the series',
    }),
    column({
      name: 'set',
      kind: 'whole',
      isNeeded: true,
      range: [1, 1000],
      put: (row, set) => (row.set = set),
      describe: 'the set in it',
    }),
    column({
      name: 'point',
      kind: 'whole',
      isNeeded: true,
      range: [1, 2],
      put: (row, point) => (row.point = point === 2 ? 2 : 1),
      describe: 'which of the two points was measured',
    }),
    column({
      name: axes[0],
      kind: 'number',
      isNeeded: true,
      put: (row, x) => (row.xM = x * metresPerUnit),
      describe: 'the grid pair, named by its axes and unit',
    }),
    column({
      name: axes[1],
      kind: 'number',
      isNeeded: true,
      put: (row, y) => (row.yM = y * metresPerUnit),
      describe: 'the grid pair, named by its axes and unit',
    }),
    height('ellipsoidal_height_m'),
    height('orthometric_height_m'),
  ];
}

/**
 * Reads the measurements of the field procedure: series, set, point (1 or 2), the grid pair by its names, and one height
 * column. Returned in metres.
 * Problems: those of the table and its cells; csv-missing-column without a grid pair; value-duplicate-id for a point
 * measured twice in one set.
 */
export async function readIsoSeries(
  table: CsvTable,
  mapping: ColumnMapping,
): Promise<Outcome<readonly IsoMeasurement[]>> {
  const axes = axesInHeader(table.header, Object.keys(mapping));
  if (axes === null) {
    return failure(
      errorProblem('csv-missing-column', {
        message: 'there is no pair of grid columns',
        where: { source: table.source, line: table.headerLine },
        hint: 'name them by their axes and unit, such as easting_m and northing_m',
      }),
    );
  }
  const { source, header, headerLine, dialect } = table;
  const unit = unitProblem({ source, header, headerLine, hasHeader: dialect.hasHeader }, axes);
  if (unit !== null) return failure(unit);
  const metresPerUnit = present(metresPerUnitOf(axes[0]), 'a unit that is known');
  const seen = new Set<string>();
  return readWholeTable<IsoMeasurement>(
    table,
    {
      columns: seriesColumns(axes, metresPerUnit),
      choices: [{ what: 'a height', sets: HEIGHTS.map((name) => [name]) }],
      heights: HEIGHTS,
      blank: () => ({ series: NaN, set: NaN, point: 1, xM: NaN, yM: NaN, heightM: NaN }),
      check({ series, set, point }, cells) {
        if (cells.problems.length > 0) return;
        const key = `${String(series)}:${String(set)}:${String(point)}`;
        if (seen.has(key)) {
          const message = `point ${String(point)} of set ${String(set)} in series ${String(series)} is there twice`;
          cells.report('value-duplicate-id', cells.column('point'), message);
        } else seen.add(key);
      },
    },
    mapping,
  );
}
