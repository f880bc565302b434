import type { CsvDialect } from '../../../../io/csv/csv-dialect.js';
import type { PlaceInput } from '../../../../io/tables/points/place-input.js';
import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import { csvWriteOptions } from '../../../outputs/csv-write-options.js';
import { createRowWriter } from '../../../outputs/row-writer.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Workbench } from '../../../shell/workbench.js';
import { transformTable } from './transform-table.js';
import { bytePlaceWriter, textPlaceWriter } from '../place-writer.js';
import type { PlaceWriter } from '../place-writer.js';
import { writtenFrame, writtenPlace } from './written-place.js';

/**
 * The table of the output and its writer; says its columns, and which of the input were renamed. Rows are written in bytes
 * where `mayTakeBytes`, and where the output is such a table.
 */
export function openTable(
  bench: Workbench,
  planned: PlannedTransform,
  input: PlaceInput,
  { delimiter }: CsvDialect,
  mayTakeBytes: boolean,
): PlaceWriter {
  const { invocation, format } = bench;
  const angles = textOption(invocation, 'angles') === 'dms' ? 'dms' : 'degrees';
  const table = transformTable(planned, input, format, angles);
  const { columns, notes, cells } = table;
  bench.columns(columns.map(({ name }) => name));
  bench.diagnostics.report(notes);
  const csv = csvWriteOptions(invocation);
  const isPlain = mayTakeBytes && format === 'csv' && angles === 'degrees' && csv.delimiter === delimiter;
  const bytes = isPlain ? bytePlaceWriter(table, csv) : null;
  if (bytes !== null) return bytes;
  const frame = writtenFrame(planned, textOption(invocation, 'topocentricAt'));
  const place = writtenPlace(planned);
  return textPlaceWriter(createRowWriter(format, columns, frame, csv), (row, point) => place(cells(row, point), point));
}
