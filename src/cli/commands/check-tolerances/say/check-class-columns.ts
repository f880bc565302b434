import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { pointClass } from '../../../../tasks/check/judge/check-tolerances-classes.js';
import type { PointRow } from '../../../../records/points/point-row.js';
import type { CheckAxes } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { CheckRow } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import { checkColumns, checkRecord } from './check-columns.js';
import type { RecordColumn, WrittenRecord } from '../../../outputs/record-writer.js';

const CLASS_COLUMNS: readonly RecordColumn[] = [
  { name: 'circle_95_m', kind: 'number' },
  { name: 'vertical_95_m', kind: 'number' },
  { name: 'horizontal_class', kind: 'text' },
  { name: 'vertical_class', kind: 'text' },
  { name: 'vertical_class_of', kind: 'text' },
];

/** Columns of a check under a standard of classes: those of every check, then the class of the measured point. */
export function classColumns(axes: CheckAxes): readonly RecordColumn[] {
  return [...checkColumns(axes), ...CLASS_COLUMNS];
}

/** The comparisons with the class of each measured point, then one row of check `class` for every point. */
export function* classRecords(
  rows: Iterable<CheckRow>,
  points: Iterable<PointRow>,
  axes: CheckAxes,
): Generator<WrittenRecord> {
  for (const row of rows) {
    const { cells, geometry } = checkRecord(row);
    const { measured } = row;
    yield {
      cells: [...cells, ...(measured === null ? CLASS_COLUMNS.map(() => '') : classCells(measured.row))],
      geometry,
    };
  }
  const names = checkColumns(axes).map(({ name }) => name);
  for (const point of points) {
    const isStated = pointClass(point).circle95M !== null;
    const said: Readonly<Record<string, string>> = {
      check: 'class',
      point_id: point.pointId,
      occupation: point.occupation,
      verdict: isStated ? '' : 'no',
      reasons: isStated ? '' : 'check-no-sigma',
    };
    const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = point;
    yield {
      cells: [...names.map((name) => said[name] ?? ''), ...classCells(point)],
      geometry:
        latitudeDeg === null || longitudeDeg === null
          ? { kind: 'lines', lines: [] }
          : { kind: 'point', place: { latitudeDeg, longitudeDeg }, ellipsoidalHeightM },
    };
  }
}

function classCells(row: PointRow): readonly string[] {
  const { circle95M, vertical95M, horizontal, vertical, height } = pointClass(row);
  const m = (value: number | null): string => (value === null ? '' : formatFixed(value, 4));
  return [m(circle95M), m(vertical95M), horizontal, vertical, circle95M === null ? '' : height];
}
