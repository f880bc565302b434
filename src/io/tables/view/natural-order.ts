import { compareNaturally } from '../../../core/numeric/text/compare-naturally.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';

/** Orders the cells of a column: as numbers where every filled one is a number, else naturally. Empty cells come last either way. */
export function cellOrder(cells: readonly string[], isDescending: boolean): (a: string, b: string) => number {
  const filled = cells.filter((cell) => cell !== '');
  const areNumbers = filled.every((cell) => parseDecimal(cell) !== null);
  const compare = areNumbers ? (a: string, b: string): number => number(a) - number(b) : compareNaturally;
  return (a, b) => {
    if (a === '' || b === '') return Number(a === '') - Number(b === '');
    return isDescending ? compare(b, a) : compare(a, b);
  };
}

function number(cell: string): number {
  // Every filled cell was looked at before.
  return parseDecimal(cell) ?? NaN;
}
