import { ASKED } from './draft-line.js';
import type { DraftLine } from './draft-line.js';
import type { DialectGuess } from './guesses/guess-dialect.js';
import type { EncodingGuess } from './guesses/guess-encoding.js';

/** Lines of `[table]`: what is not as our own files are. */
export function tableLines(dialect: DialectGuess, encoding: EncodingGuess | null): readonly DraftLine[] {
  const lines: DraftLine[] = [];
  const say = (key: string, value: DraftLine['value'], ...why: readonly string[]): void => {
    lines.push({ path: ['table', key], value, why });
  };
  if (dialect.delimiter === null) say('delimiter', ASKED, dialect.delimiterWhy);
  else if (dialect.delimiter !== ',') say('delimiter', dialect.delimiter, dialect.delimiterWhy);
  if (dialect.decimalMark === 'mixed')
    say('decimal_mark', ASKED, `${dialect.decimalWhy}: write "." or ",", and mend the others in the file`);
  else if (dialect.decimalMark === ',') say('decimal_mark', ',', dialect.decimalWhy);
  if (encoding !== null && encoding.why !== '') say('encoding', encoding.encoding, encoding.why);
  if (dialect.comment !== null) say('comment', dialect.comment, 'lines that begin with it hold no cells');
  if (dialect.skipLines > 0) say('skip_lines', dialect.skipLines, 'the lines before the header are no table');
  if (dialect.rowsUnderHeader > 0)
    say('rows_under_header', dialect.rowsUnderHeader, 'the row beneath the header holds units');
  if (!dialect.hasHeader) say('columns_by', 'position', 'the first row is data: columns are counted from 1');
  return lines;
}
