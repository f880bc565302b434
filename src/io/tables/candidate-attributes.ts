import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import { locateProblem } from '../../records/problem.js';
import { createCellReader } from '../csv/cell-read.js';
import type { FoundColumn } from '../csv/cell-read.js';
import { CANDIDATE_COLUMNS } from './candidate-columns.js';
import type { CandidateAttributes } from './candidate-columns.js';
import { createRowFiller } from './columns/row-reader.js';

/**
 * Reads the attributes of candidates among the other columns of their rows; the columns may be absent, their cells empty.
 * Given: the names of the columns that passed through, and the file's name. Returned: a reader of one row.
 * Problems: value-unknown-word for cellular; value-not-a-number and the like for the others.
 */
export function createCandidateAttributes(
  passThroughNames: readonly string[],
  source: string,
  decimalComma: boolean,
): (row: Pick<PointRow, 'passThrough' | 'place'>) => Outcome<CandidateAttributes> {
  const names = passThroughNames.map((name) => name.trim().toLowerCase());
  const index = (name: string): number => names.indexOf(name);
  const column = (name: string): FoundColumn => ({
    name,
    index: index(name),
    header: name,
    second: null,
    reading: null,
  });
  const cells = createCellReader({ index, column, passThrough: [] }, source, decimalComma);
  const fill = createRowFiller(CANDIDATE_COLUMNS, cells);
  return ({ passThrough, place: { line } }) => {
    const attributes = { cellular: null, skyScore: null, cost: null };
    cells.start(passThrough, line, 0);
    fill(attributes);
    if (cells.problems.length === 0) return success(attributes);
    // The place among the cells that passed through is not that in the file: the column is named.
    return failureOf(
      cells.problems.map(({ where, ...problem }) =>
        locateProblem(problem, { source, line, ...(where?.column !== undefined && { column: where.column }) }),
      ),
    );
  };
}
