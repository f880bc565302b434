import type { Fix } from '../../records/points/fix.js';
import type { RecordList } from '../../records/record-list.js';
import { recordAt } from '../reduce/packing/packed-records.js';
import { entryAt } from '../../records/present.js';

/** So many different values of a cell are written out; of more, the first and how many others there are. */
const MOST_VALUES = 5;

/**
 * One cell of an occupation whose rows may differ: every different value that is not empty, in the order
 * of the rows, with semicolons between; of more than five the first, and the number of the others.
 */
export function joinedCell(fixes: RecordList<Fix>, cellOf: (fix: Fix) => string): string {
  const first = fixes.at(0);
  if (first === undefined) return '';
  const cell = cellOf(first);
  if (fixes.length === 1) return cell;
  const cells = new Set<string>();
  for (let index = 0; index < fixes.length; index += 1) cells.add(cellOf(recordAt(fixes, index)));
  if (cells.size === 1) return cell;
  const values = [...cells].filter((value) => value.trim() !== '');
  if (values.length <= MOST_VALUES) return values.join('; ');
  return `${entryAt(values, 0)} (and ${String(values.length - 1)} others)`;
}

/** The cells that pass through, each joined by itself. */
export function joinedCells(fixes: RecordList<Fix>): readonly string[] {
  // An occupation without fixes passes nothing through.
  const first = fixes.at(0)?.passThrough ?? [];
  return fixes.length === 1 || first.length === 0 ? first : ofSeveral(fixes, first);
}

/** By itself, as a function made in the one above would cost memory where there is one fix. */
function ofSeveral(fixes: RecordList<Fix>, first: readonly string[]): readonly string[] {
  // Files of one survey may carry different columns.
  return first.map((_, column) => joinedCell(fixes, (fix) => fix.passThrough[column] ?? ''));
}
