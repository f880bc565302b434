import { fileCellRead, saysCells } from './cells/file-cell-read.js';
import { createFiller } from './cells/value-takers.js';
import { InternalError } from '../../../records/internal-error.js';
import type { CellRead } from './cells/value-takers.js';
import type { FoundColumn, RowCells } from '../../csv/cell-read.js';
import type { Column, ColumnRange, DescribedColumn } from './column.js';
import type { Draft } from '../../../records/draft.js';

/** Lays the cells of the current row into a record. */
export type RowFiller<Row> = (row: Draft<Row>) => void;

const FILL = 'fill the cell, or leave the row out';
const ANY: ColumnRange = [-Infinity, Infinity];

/**
 * A filler of records from the columns that are there and kept: one small function for each, made once a table. Problems
 * come in the order of the columns; those of a cell leave the record as it was.
 */
export function createRowFiller<Row>(columns: readonly Column<Row>[], cells: RowCells): RowFiller<Row> {
  const reads: CellRead[] = [];
  const puts: ((row: Draft<Row>, value: never) => void)[] = [];
  for (const column of columns) {
    if (column.put === null || cells.column(column.name).index < 0) continue;
    reads.push(cellRead(column, columns, cells));
    puts.push(column.put);
  }
  return createFiller(reads, puts);
}

/** A reader of one column's numbers, for what is made of several columns together; null: empty, or a problem was reported. */
export function numberRead(
  name: string,
  columns: readonly DescribedColumn[],
  cells: RowCells,
  isFilled?: boolean,
): () => number | null {
  const found = described(name, columns);
  return cellRead({ ...found, isFilled: isFilled ?? found.isFilled }, columns, cells) as () => number | null;
}

/** A reader of one column's identifiers, likewise. */
export function idRead(name: string, columns: readonly DescribedColumn[], cells: RowCells): () => string | null {
  const { isFilled } = described(name, columns);
  const at = cells.column(name);
  return isFilled ? () => cells.requiredId(at) : () => cells.optionalId(at);
}

function described(name: string, columns: readonly DescribedColumn[]): DescribedColumn {
  const found = columns.find((column) => column.name === name);
  if (found === undefined) throw new InternalError(`no column ${name} is described`);
  return found;
}

function cellRead(column: DescribedColumn, columns: readonly DescribedColumn[], cells: RowCells): CellRead {
  const at = cells.column(column.name);
  if (saysCells(column, at.reading)) return fileCellRead(column, at, at.reading, cells);
  const [least, most] = column.range ?? ANY;
  switch (column.kind) {
    case 'id':
      return column.isFilled ? () => cells.requiredId(at) : () => cells.optionalId(at);
    case 'text':
    case 'codes':
      return () => cells.text(at);
    case 'number':
      return column.isFilled
        ? () => cells.requiredNumber(at, least, most)
        : () => cells.optionalNumber(at, least, most);
    case 'whole':
      return column.isFilled
        ? filled(() => cells.optionalWhole(at, least, most), cells, at, FILL)
        : () => cells.optionalWhole(at, least, most);
    case 'latitude': {
      const longitude = longitudeOf(columns, cells);
      return ifFilled(() => cells.latitude(at, longitude), column, cells, at);
    }
    case 'longitude':
      return ifFilled(() => cells.longitude(at), column, cells, at);
    case 'direction':
    case 'angle':
      return () => cells.direction(at, least, most);
    case 'time':
      return column.isFilled ? filled(() => cells.time(at), cells, at, FILL) : () => cells.time(at);
    case 'yes-no': {
      const read = yesOrNo(cells, at);
      return column.isFilled ? filled(read, cells, at, 'write yes or no') : read;
    }
    case 'word': {
      const { words } = column;
      if (words === undefined) return () => cells.text(at);
      const read = (): unknown => cells.word(at, words, column.isTranslated);
      return column.isFilled ? filled(read, cells, at, `write one of ${[...words.keys()].join(', ')}`) : read;
    }
  }
}

const YES_NO: ReadonlyMap<string, boolean> = new Map([
  ['yes', true],
  ['true', true],
  ['1', true],
  ['no', false],
  ['false', false],
  ['0', false],
]);

function yesOrNo(cells: RowCells, at: FoundColumn): () => boolean | null {
  return () => {
    const cell = cells.text(at).trim();
    const value = YES_NO.get(cell.toLowerCase());
    if (value !== undefined) return value;
    if (cell !== '')
      cells.report(
        'value-unknown-word',
        at,
        `"${cell}" is neither yes nor no`,
        'leave the cell empty where it is not known',
        cell,
      );
    return null;
  };
}

/** The same reader, which is not asked of an empty cell where the column need not be filled. */
function ifFilled(
  read: () => number | null,
  { isFilled }: DescribedColumn,
  cells: RowCells,
  at: FoundColumn,
): () => number | null {
  return isFilled ? read : () => (cells.text(at).trim() === '' ? null : read());
}

/** The same reader, which reports an empty cell. */
function filled(read: CellRead, cells: RowCells, at: FoundColumn, hint: string): CellRead {
  return () => {
    const before = cells.problems.length;
    const value = read();
    if (value === null && cells.problems.length === before)
      cells.report('value-missing', at, 'is empty and needed', hint);
    return value;
  };
}

function longitudeOf(columns: readonly DescribedColumn[], cells: RowCells): FoundColumn {
  const longitude = columns.find(({ kind }) => kind === 'longitude');
  if (longitude === undefined) throw new InternalError('a latitude without a longitude');
  return cells.column(longitude.name);
}
