import type { Buffer } from 'node:buffer';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { CellPlace, FoundColumn, RowCells } from './cell-read.js';
import type { ColumnMap } from '../tables/columns/column-map.js';
import { createPlainText, createPlainTime, plainNumber } from './plain-cell-values.js';
import type { PlainText, PlainTime } from './plain-cell-values.js';

/**
 * Reads cells straight from the bytes of a row, without making strings. It answers only where a cell is in the plain
 * form that nearly every cell has, and then as the reader of `createCellReader` does. For any other cell, good or bad,
 * `problems` is no longer empty: that reader must look at the row.
 */
export interface PlainCellReader extends RowCells {
  /** Makes the bytes from `start` to `end` current; false where they do not hold the number of cells expected. */
  readonly start: (bytes: Buffer, start: number, end: number) => boolean;
}

/** Stands in `problems` for "not plain"; never shown. */
const NOT_PLAIN: Problem = warningProblem('value-invalid-id', { message: 'not plain' });
const EMPTY: Buffer | null = null;

/** A plain reader of rows of `cellCount` cells. Given: the columns; the delimiter, one ASCII character. */
export function createPlainCellReader(map: ColumnMap, cellCount: number, delimiter: string): PlainCellReader {
  const delimiterCode = delimiter.charCodeAt(0);
  const problems: Problem[] = [];
  // The end of cell n is one before the start of cell n + 1.
  const starts = new Int32Array(cellCount + 2);
  const texts: readonly PlainText[] = Array.from({ length: cellCount }, createPlainText);
  const times: readonly PlainTime[] = Array.from({ length: cellCount }, createPlainTime);
  let bytes: Buffer = EMPTY as unknown as Buffer;

  function notPlain(): null {
    problems.push(NOT_PLAIN);
    return null;
  }

  function number(column: FoundColumn, minimum: number, maximum: number): number | null {
    const value = plainNumber(bytes, starts[column.index] as number, (starts[column.index + 1] as number) - 1);
    return value >= minimum && value <= maximum ? value : notPlain();
  }

  function isEmpty(column: CellPlace): boolean {
    return column.index < 0 || starts[column.index + 1] === (starts[column.index] as number) + 1;
  }

  function text(column: CellPlace): string | null {
    if (isEmpty(column)) return '';
    const read = texts[column.index] as PlainText;
    return read(bytes, starts[column.index] as number, (starts[column.index + 1] as number) - 1) ?? notPlain();
  }

  return {
    problems,
    ...columnsOf(map),
    start(rowBytes, start, end) {
      bytes = rowBytes;
      // Setting a length takes longer than looking at it.
      if (problems.length > 0) problems.length = 0;
      let found = 1;
      starts[0] = start;
      for (let at = start; at < end; at += 1) {
        if (rowBytes[at] !== delimiterCode) continue;
        if (found === cellCount) return false;
        starts[found] = at + 1;
        found += 1;
      }
      starts[found] = end + 1;
      return found === cellCount;
    },
    requiredNumber: (column, minimum = -Infinity, maximum = Infinity) =>
      isEmpty(column) ? notPlain() : number(column, minimum, maximum),
    optionalNumber: (column, minimum = -Infinity, maximum = Infinity) =>
      isEmpty(column) ? null : number(column, minimum, maximum),
    optionalWhole(column, minimum, maximum) {
      if (isEmpty(column)) return null;
      const value = number(column, minimum, maximum);
      return value === null || Number.isInteger(value) ? value : notPlain();
    },
    requiredId: (column) => (isEmpty(column) ? notPlain() : text(column)),
    optionalId: (column) => (isEmpty(column) ? null : text(column)),
    isEmpty,
    // Not plain: the row is read once more, with all care.
    text: (column) => text(column) ?? '',
    latitude: (column) => (isEmpty(column) ? notPlain() : number(column, -90, 90)),
    longitude(column) {
      const value = isEmpty(column) ? notPlain() : number(column, -180, 360);
      return value !== null && value > 180 ? value - 360 : value;
    },
    direction: (column, minimum, maximum) => (isEmpty(column) ? null : number(column, minimum, maximum)),
    // Not plain: the row is read once more, with all care.
    raw: (column) => text(column) ?? '',
    time(column) {
      if (isEmpty(column)) return null;
      const read = times[column.index] as PlainTime;
      const ms = read(bytes, starts[column.index] as number, (starts[column.index + 1] as number) - 1);
      return ms - ms === 0 ? ms : notPlain();
    },
    word(column, words) {
      if (isEmpty(column)) return null;
      const cell = text(column);
      return cell === null ? null : (words.get(cell) ?? notPlain());
    },
    report: notPlain,
  };
}

/** What is known of the columns; a decimal comma is never plain. */
function columnsOf(map: ColumnMap): Pick<RowCells, 'column' | 'decimalComma'> {
  return { column: map.column, decimalComma: false };
}
