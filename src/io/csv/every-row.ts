import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { CellReader } from './cell-read.js';
import { rowLengthProblem } from './csv-read.js';
import type { CsvTable } from './csv-read.js';

/**
 * Goes through a table that is read whole, row by row: the row is current in `cells` when `visit` is
 * called. Rows of a wrong length are not visited.
 * Returned: every problem of rows and cells, in their order, with the warnings that cost no row beside them; or the failure of
 * the table itself.
 */
export async function everyRow(
  table: CsvTable,
  cells: CellReader,
  visit: (line: number) => void,
): Promise<Outcome<Problem[]>> {
  const { source, header } = table;
  const problems: Problem[] = [];
  for await (const block of table.blocks()) {
    if (!block.ok) return block;
    const { rows, firstRecord, lineOf } = block.value;
    for (const [index, row] of rows.entries()) {
      const line = lineOf(index);
      const record = firstRecord + index;
      const length = rowLengthProblem(row, header, { source, line, record });
      if (length !== null) {
        problems.push(length);
        continue;
      }
      cells.start(row, line, record);
      visit(line);
      for (const problem of cells.problems) problems.push(problem);
    }
  }
  return success(problems, cells.takeWarnings());
}
