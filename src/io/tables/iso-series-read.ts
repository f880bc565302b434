import type { IsoMeasurement } from '../../core/quality/standards/iso-17123-8.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { createCellReader } from '../csv/cell-read.js';
import { mapColumns } from './columns/column-map.js';
import type { CsvTable } from '../csv/csv-read.js';
import { everyRow } from '../csv/every-row.js';
import { axesInHeader, metresPerUnitOf } from './points/point-row-columns.js';

/**
 * Reads the measurements of the field procedure: series, set, point (1 or 2), the grid pair by its names, and one height
 * column. Returned in metres.
 * Problems: those of the table and its cells; csv-missing-column without a grid pair; value-duplicate-id for a point
 * measured twice in one set.
 */
export async function readIsoSeries(
  table: CsvTable,
  mapping: Readonly<Record<string, string>>,
): Promise<Outcome<readonly IsoMeasurement[]>> {
  const { source, header, headerLine, dialect } = table;
  const axes = axesInHeader(header, Object.keys(mapping));
  if (axes === null) {
    return failure(
      errorProblem('csv-missing-column', {
        message: 'there is no pair of grid columns',
        where: { source, line: headerLine },
        hint: 'name them by their axes and unit, such as easting_m and northing_m',
      }),
    );
  }
  const spec = {
    columns: ['series', 'set', 'point', ...axes, 'ellipsoidal_height_m', 'orthometric_height_m'],
    required: ['series', 'set', 'point', ...axes],
    choices: [{ what: 'a height', sets: [['ellipsoidal_height_m'], ['orthometric_height_m']] }],
    heights: ['ellipsoidal_height_m', 'orthometric_height_m'],
  };
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, spec, mapping);
  if (!mapped.ok) return mapped;
  const cells = createCellReader(mapped.value, source, dialect.decimalComma);
  const series = cells.column('series');
  const set = cells.column('set');
  const point = cells.column('point');
  const x = cells.column(axes[0]);
  const y = cells.column(axes[1]);
  const ellipsoidal = cells.column('ellipsoidal_height_m');
  const height = ellipsoidal.index >= 0 ? ellipsoidal : cells.column('orthometric_height_m');
  const scale = metresPerUnitOf(axes[0]) ?? 1;
  const found: IsoMeasurement[] = [];
  const seen = new Set<string>();
  const read = await everyRow(table, cells, () => {
    const numbers = [
      cells.requiredNumber(series, 1, 1000),
      cells.requiredNumber(set, 1, 1000),
      cells.requiredNumber(point, 1, 2),
    ];
    const places = [cells.requiredNumber(x), cells.requiredNumber(y), cells.requiredNumber(height)];
    if (cells.problems.length === 0 && numbers.some((value) => !Number.isInteger(value)))
      cells.report('value-out-of-range', series, 'series, set and point are whole numbers');
    const key = numbers.join(':');
    if (cells.problems.length === 0 && seen.has(key))
      cells.report(
        'value-duplicate-id',
        point,
        `point ${String(numbers[2])} of set ${String(numbers[1])} in series ${String(numbers[0])} is there twice`,
      );
    if (cells.problems.length > 0) return;
    seen.add(key);
    found.push({
      series: numbers[0] ?? 0,
      set: numbers[1] ?? 0,
      point: numbers[2] === 2 ? 2 : 1,
      xM: (places[0] ?? 0) * scale,
      yM: (places[1] ?? 0) * scale,
      heightM: places[2] ?? 0,
    });
  });
  if (!read.ok) return read;
  const problems = read.value;
  return problems.length > 0 ? failureOf(problems) : success(found, mapped.problems);
}
