import { parseDecimal } from '../../core/numeric/text/decimal-text.js';

/** What makes a spreadsheet program take a cell for a formula. */
const FORMULA = /^[=+\-@\t\r]/u;

/** The same cell with an apostrophe before it where a spreadsheet program would take it for a formula; never a number. */
export function spreadsheetSafe(cell: string): string {
  return FORMULA.test(cell) && parseDecimal(cell) === null ? `'${cell}` : cell;
}
