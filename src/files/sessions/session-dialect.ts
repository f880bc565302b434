import type { CsvDialect } from '../../io/csv/csv-dialect.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { TableSettings } from '../../records/session.js';
import { present } from '../../records/present.js';

/** How a session says that its tables are written. Problems: config-invalid-value for a delimiter that is not one character, or is the decimal comma. */
export function sessionDialect(table: TableSettings): Outcome<CsvDialect> {
  const delimiter = oneCharacter(table.delimiter ?? ',');
  if (delimiter === null)
    return failure(
      badDelimiter(present(table.delimiter, 'a delimiter that is not one character'), 'is not one character'),
    );
  const decimalComma = table.decimalMark === ',';
  if (decimalComma && delimiter === ',') return failure(badDelimiter(',', 'is the decimal mark too'));
  return success({
    delimiter,
    comment: table.comment,
    skipLines: table.skipLines,
    hasHeader: table.columnsBy === 'header',
    ...(table.rowsUnderHeader > 0 && { rowsUnderHeader: table.rowsUnderHeader }),
    decimalComma,
  });
}

/** A delimiter as it may be given; null: it is none. */
export function oneCharacter(text: string): string | null {
  const delimiter = text === '\\t' || text === 'tab' ? '\t' : text;
  return delimiter.length !== 1 || ['"', '\n', '\r'].includes(delimiter) ? null : delimiter;
}

function badDelimiter(received: string, why: string): ReturnType<typeof errorProblem> {
  return errorProblem('config-invalid-value', {
    message: `table.delimiter "${received}" ${why}`,
    received,
    where: { path: 'table.delimiter' },
    hint: 'for example delimiter = ";" or delimiter = "\\t"',
  });
}
