import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { headerForm } from './header-form.js';
import type { HeaderForm } from './header-form.js';

/** What the cells of a column are like. */
export interface ColumnProfile {
  readonly header: string;
  /** From 0. */
  readonly index: number;
  readonly form: HeaderForm;
  /** Cells that are not empty, without outer space. */
  readonly cells: readonly string[];
  /** Each different cell with its count, most first. */
  readonly distinct: readonly (readonly [string, number])[];
  /** Every cell that is not empty is a number: these; null otherwise. */
  readonly numbers: readonly number[] | null;
  readonly least: number;
  readonly most: number;
  readonly median: number;
}

/** Different cells of which each is counted. */
const MOST_DISTINCT = 200;

/** The profiles of a table's columns. Given: headers; the cells of a row of units, if there is one; rows; whether numbers have a decimal comma. */
export function columnProfiles(
  header: readonly string[],
  unitsRow: readonly string[] | null,
  rows: readonly (readonly string[])[],
  decimalComma: boolean,
): readonly ColumnProfile[] {
  return header.map((name, index) => {
    // A row may be shorter than its header: such a cell is empty.
    const cells = rows.map((row) => (row[index] ?? '').trim()).filter((cell) => cell !== '');
    const counts = new Map<string, number>();
    for (const cell of cells)
      if (counts.has(cell) || counts.size < MOST_DISTINCT) counts.set(cell, (counts.get(cell) ?? 0) + 1);
    const numbers: number[] = [];
    for (const cell of cells) {
      const value = parseDecimal(cell, decimalComma);
      if (value === null) break;
      numbers.push(value);
    }
    const areNumbers = cells.length > 0 && numbers.length === cells.length;
    const sorted = areNumbers ? [...numbers].sort((a, b) => a - b) : [];
    return {
      header: name,
      index,
      // Without a row of units none is said there.
      form: headerForm(name, unitsRow?.[index] ?? ''),
      cells,
      distinct: [...counts].sort((a, b) => b[1] - a[1]),
      numbers: areNumbers ? numbers : null,
      least: sorted[0] ?? Number.NaN,
      most: sorted.at(-1) ?? Number.NaN,
      median: sorted[Math.floor(sorted.length / 2)] ?? Number.NaN,
    };
  });
}

/** A column whose every number is zero says nothing. */
export function isAllZero({ numbers, most, least }: ColumnProfile): boolean {
  return numbers !== null && most === 0 && least === 0;
}

/** A text to show as an example; empty where there is none. */
export function exampleOf(texts: readonly string[]): string {
  // Nothing to show.
  return texts[0] ?? '';
}

/** The cell that goes with one of another column; empty where the column has fewer. */
export function cellAt({ cells }: ColumnProfile, index: number): string {
  // A column may have fewer filled cells.
  return cells[index] ?? '';
}
