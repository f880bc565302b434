import { stringify } from 'csv-stringify/sync';
import { assertDistinct } from '../tables/columns/distinct-columns.js';
import { WAY } from '../host/way.js';
import { spreadsheetSafe } from '../text/spreadsheet-safe.js';

/** How a delimited text file is to be written. */
export interface CsvWriteOptions {
  readonly delimiter: string;
  readonly eol: '\n' | '\r\n';
  /** Start with a byte order mark, for programs that take a file without one for an older encoding. */
  readonly bom: boolean;
  /** Text that a spreadsheet program would take for a formula gets an apostrophe before it; absent: false. */
  readonly isSpreadsheetSafe?: boolean;
}

/** RFC 4180 fields with LF line ends. */
export const DEFAULT_CSV_WRITE: CsvWriteOptions = { delimiter: ',', eol: '\n', bom: false };

/** Writes a delimited text file piece by piece. Cells are text already: nothing is formatted here. */
export interface CsvWriter {
  /** The header line, to be written once, first. */
  readonly header: () => string;
  /** Lines of the rows given, each with its line end. */
  readonly rows: (rows: readonly (readonly string[])[]) => string;
}

const QUOTE = 0x22;
const LF = 0x0a;
const CR = 0x0d;

/**
 * A writer of rows under the given columns.
 * Given: column names; the dialect; the positions of columns whose cells may hold anything (default: all). Cells of
 * the others must be plain words and numbers, which never need quotes.
 * Quoting is csv-stringify's, for every block of rows in which a cell holds a quote, the delimiter or a line end;
 * other blocks are only joined, which a test holds equal to csv-stringify. Nothing is escaped against formulas
 * unless asked for. The inverse is `readCsv`.
 */
export function createCsvWriter(
  columns: readonly string[],
  options: CsvWriteOptions = DEFAULT_CSV_WRITE,
  textColumns?: readonly number[],
): CsvWriter {
  assertDistinct(columns);
  const everyColumn = columns.map((_, index) => index);
  const { delimiter, eol } = options;
  const delimiterCode = delimiter.charCodeAt(0);
  // A lone empty cell would be a blank line, which readers leave out.
  const isSingle = columns.length === 1;

  function needsQuotes(row: readonly string[], checked: readonly number[]): boolean {
    for (const index of checked) {
      // On the way of a row: not asked for each cell.
      const cell = row[index] ?? '';
      if (isSingle && cell === '') return true;
      for (let at = 0; at < cell.length; at += 1) {
        const code = cell.charCodeAt(at);
        if (code === QUOTE || code === delimiterCode || code === LF || code === CR) return true;
      }
    }
    return false;
  }

  function quoted(rows: readonly (readonly string[])[]): string {
    return stringify(rows as string[][], {
      delimiter,
      record_delimiter: eol,
      quoted_match: /[\r\n]/u,
      quoted_empty: isSingle,
    });
  }

  function text(rows: readonly (readonly string[])[], checked: readonly number[]): string {
    if (options.isSpreadsheetSafe === true) return quoted(rows.map((row) => row.map(spreadsheetSafe)));
    if (WAY === 'general') return quoted(rows);
    let joined = '';
    for (const row of rows) {
      if (needsQuotes(row, checked)) return quoted(rows);
      joined += row.join(delimiter) + eol;
    }
    return joined;
  }

  return {
    header: () => (options.bom ? '\ufeff' : '') + text([columns], everyColumn),
    rows: (rows) => text(rows, textColumns ?? everyColumn),
  };
}
