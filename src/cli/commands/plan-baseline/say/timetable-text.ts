import { createCsvWriter } from '../../../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../../../io/csv/csv-write.js';
import { createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import type { PlanDay } from '../../../../tasks/plan/plan-days.js';
import { TIMETABLE_COLUMNS } from './timetable-columns.js';
import type { TimetableLine } from './timetable-columns.js';

/** The days as CSV; what did not fit comes last, without times. */
export function timetableText(days: readonly PlanDay[], csv: CsvWriteOptions): string {
  const writer = createCsvWriter(
    TIMETABLE_COLUMNS.map(({ name }) => name),
    csv,
  );
  const cellsOf = createCellTexts(TIMETABLE_COLUMNS);
  const lines = days.flatMap(({ baseId, timetable: { visits, leftOut } }): readonly TimetableLine[] => [
    ...visits.map((visit) => ({ baseId, pointId: visit.pointId, occupation: visit.occupation, visit })),
    ...leftOut.map(({ pointId, occupation }) => ({ baseId, pointId, occupation, visit: null })),
  ]);
  return writer.header() + writer.rows(lines.map(cellsOf));
}
