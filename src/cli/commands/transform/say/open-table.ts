import type { PlaceInput } from '../../../../io/tables/points/place-rows-read.js';
import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import { csvWriteOptions } from '../../../outputs/csv-write-options.js';
import { createRowWriter } from '../../../outputs/row-writer.js';
import type { RowWriter } from '../../../outputs/row-writer.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Workbench } from '../../../shell/workbench.js';
import { transformTable } from './transform-table.js';
import type { TransformTable } from './transform-table.js';
import { writtenFrame } from './written-place.js';

/** The table of the output and its writer; says its columns, and which of the input were renamed. */
export function openTable(
  bench: Workbench,
  planned: PlannedTransform,
  input: PlaceInput,
): Pick<TransformTable, 'cells'> & { readonly writer: RowWriter } {
  const { invocation, format } = bench;
  const angles = textOption(invocation, 'angles') === 'dms' ? 'dms' : 'degrees';
  const { columns, notes, cells } = transformTable(planned, input, format, angles);
  bench.columns(columns.map(({ name }) => name));
  bench.diagnostics.report(notes);
  const frame = writtenFrame(planned, textOption(invocation, 'topocentricAt'));
  return { cells, writer: createRowWriter(format, columns, frame, csvWriteOptions(invocation)) };
}
