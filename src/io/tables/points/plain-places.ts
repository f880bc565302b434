import type { Buffer } from 'node:buffer';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import type { CsvDialect } from '../../csv/csv-dialect.js';
import { plainNumber } from '../../csv/plain-cell-values.js';
import { createPlainSplit } from '../../csv/plain-split.js';
import type { CarriedRow } from '../row-bytes/carried-row-write.js';
import type { Column, ColumnRange } from '../columns/column.js';
import type { ColumnMap, PassThroughColumn } from '../columns/column-map.js';
import { saysCells } from '../columns/cells/file-cell-read.js';
import { HEIGHTS } from './place-columns.js';
import { createPlainPlaceRow, ELLIPSOIDAL, emptyValues, ORTHOMETRIC, SLOTS } from './plain-place-row.js';

/** Rows that follow each other; an array is one too. */
export interface PlaceRows {
  readonly length: number;
  /** The row may be one record that serves for all: it holds until the next is asked for. */
  readonly at: (index: number) => PlaceRow | undefined;
}

/** The rows of a block that stay in its bytes: numbers stand by themselves, texts are made when they are asked for. */
export interface PlainPlaces extends PlaceRows {
  /** The bytes of the row that was asked for last: its identifier, and the cells that pass through. */
  readonly carried: CarriedRow;
}

/** Finds the rows of a block; null where a row of it is not in the plain form: all are to be read with care. */
export type PlainPlaceReader = (block: CsvBlock) => PlainPlaces | null;

/** What is known of the table whose places are read. */
export interface PlacesTable {
  readonly map: ColumnMap;
  readonly columns: readonly Column<PlaceRow>[];
  /** Names of the position columns. */
  readonly position: readonly string[];
  readonly passing: readonly PassThroughColumn[];
  readonly cellCount: number;
  readonly dialect: CsvDialect;
}

/** A column of numbers, and where its values go among those of a row. */
interface NumberColumn {
  readonly index: number;
  readonly slot: number;
  readonly least: number;
  readonly most: number;
  readonly isFilled: boolean;
  /** 180 to 360 is read and given as −180 to 0. */
  readonly isLongitude: boolean;
}

/** Cells that follow each other in the file, the delimiters between them included: the first and the last, from 0. */
interface Run {
  readonly from: number;
  readonly to: number;
}

const SPACE = 0x20;
const LAST_ASCII = 0x7e;

/**
 * A reader of whole blocks in which every cell is in the plain form: visible ASCII, numbers as digits with one point, the
 * identifier without outer space. What it reads is what `createRowLoop` reads of the same rows, which a test holds.
 * Returned: null where something is said of the cells of a column, which makes none plain.
 */
export function createPlainPlaceReader(table: PlacesTable): PlainPlaceReader | null {
  const { map, columns, cellCount, dialect } = table;
  const delimiterCode = dialect.delimiter.charCodeAt(0);
  const isSaid = columns.some((column) => saysCells(column, map.column(column.name).reading));
  if (isSaid || dialect.decimalComma || delimiterCode > LAST_ASCII) return null;
  const numbers = numberColumns(table);
  const id = map.index('point_id');
  const runs: readonly Run[] = [{ from: id, to: id }, ...runsOf(table.passing)];
  const { starts, split } = createPlainSplit(cellCount, delimiterCode);
  const { place, carried, enter, lay } = createPlainPlaceRow(runs.length, dialect.delimiter);
  let values = new Float64Array(0);
  let spans = new Int32Array(0);

  function takeSpans(bytes: Buffer, base: number): boolean {
    const idFrom = starts[id] as number;
    const idTo = (starts[id + 1] as number) - 1;
    if (idFrom === idTo || bytes[idFrom] === SPACE || bytes[idTo - 1] === SPACE) return false;
    for (let run = 0; run < runs.length; run += 1) {
      const { from, to } = runs[run] as Run;
      spans[base + 2 * run] = starts[from] as number;
      spans[base + 2 * run + 1] = (starts[to + 1] as number) - 1;
    }
    return true;
  }

  return (block) => {
    const { plain } = block;
    if (plain === null) return null;
    const { bytes, count } = plain;
    if (values.length < count * SLOTS) {
      values = emptyValues(count);
      spans = new Int32Array(count * 2 * runs.length);
    }
    for (let index = 0; index < count; index += 1) {
      if (!split(bytes, plain.startOf(index), plain.endOf(index))) return null;
      if (!readNumbers(bytes, starts, numbers, values, index * SLOTS)) return null;
      if (!takeSpans(bytes, index * 2 * runs.length)) return null;
    }
    enter({ block, bytes, values, spans });
    return {
      length: count,
      carried,
      at(index) {
        lay(index);
        return place;
      },
    };
  };
}

/** Reads the numbers of a row into `values` from `base` on; false where one is not plain, out of its range or missing. */
function readNumbers(
  bytes: Buffer,
  starts: Int32Array,
  numbers: readonly NumberColumn[],
  values: Float64Array,
  base: number,
): boolean {
  for (let n = 0; n < numbers.length; n += 1) {
    const { index, slot, least, most, isFilled, isLongitude } = numbers[n] as NumberColumn;
    const from = starts[index] as number;
    const to = (starts[index + 1] as number) - 1;
    if (from === to) {
      if (isFilled) return false;
      values[base + slot] = NaN;
      continue;
    }
    const value = plainNumber(bytes, from, to);
    // Written so that NaN is refused.
    if (!(value >= least && value <= most)) return false;
    values[base + slot] = isLongitude && value > 180 ? value - 360 : value;
  }
  return true;
}

/** The columns of numbers that the file has and that are kept. */
function numberColumns({ map, columns, position }: PlacesTable): readonly NumberColumn[] {
  return columns.flatMap(({ name, kind, put, range, isFilled }): readonly NumberColumn[] => {
    const index = map.index(name);
    if (kind === 'id' || put === null || index < 0) return [];
    const at = position.indexOf(name);
    const slot = at >= 0 ? at : name === HEIGHTS[0] ? ELLIPSOIDAL : ORTHOMETRIC;
    const [least, most] = range ?? rangeOf(kind);
    return [{ index, slot, least, most, isFilled, isLongitude: kind === 'longitude' }];
  });
}

function rangeOf(kind: Column['kind']): ColumnRange {
  return kind === 'latitude' ? [-90, 90] : kind === 'longitude' ? [-180, 360] : [-Infinity, Infinity];
}

/** Cells that pass through, joined where they follow each other in the file. */
function runsOf(passing: readonly PassThroughColumn[]): readonly Run[] {
  const runs: Run[] = [];
  for (const { index } of passing) {
    const last = runs.at(-1);
    if (last !== undefined && last.to + 1 === index) runs[runs.length - 1] = { from: last.from, to: index };
    else runs.push({ from: index, to: index });
  }
  return runs;
}
