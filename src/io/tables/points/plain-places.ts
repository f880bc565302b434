import { Buffer } from 'node:buffer';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import type { ByteBlock } from '../../csv/csv-blocks.js';
import type { CsvDialect } from '../../csv/csv-dialect.js';
import { createPlainScan } from '../../csv/plain-scan.js';
import type { ScannedNumber, ScannedSpan } from '../../csv/plain-scan.js';
import type { CarriedRow } from '../row-bytes/carried-row-write.js';
import type { Column, ColumnRange } from '../columns/column.js';
import type { ColumnMap, PassThroughColumn } from '../columns/column-map.js';
import { saysCells } from '../columns/cells/file-cell-read.js';
import { HEIGHTS } from './place-columns.js';
import { createPlainPlaceRow, ELLIPSOIDAL, EMPTY_ROW, ORTHOMETRIC } from './plain-place-row.js';

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
  /** Says which block of the file it is. Before that the line and the record of a row cannot be asked for. */
  readonly standIn: (block: CsvBlock) => void;
}

/** Finds the rows of a block; null where a row of it is not in the plain form: all are to be read with care. */
export type PlainPlaceReader = (block: ByteBlock) => PlainPlaces | null;

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

const LAST_ASCII = 0x7e;
/** Delimiters that could be part of a number. */
const IN_NUMBERS = /[\d.-]/u;

/**
 * A reader of whole blocks in which every cell is in the plain form: visible ASCII, numbers as digits with one point, the
 * identifier without outer space. What it reads is what `createRowLoop` reads of the same rows, which a test holds.
 * Returned: null where something is said of the cells of a column, which makes none plain.
 */
export function createPlainPlaceReader(table: PlacesTable): PlainPlaceReader | null {
  const { map, columns, cellCount, dialect } = table;
  const { delimiter, comment, decimalComma } = dialect;
  const isSaid = columns.some((column) => saysCells(column, map.column(column.name).reading));
  const delimiterCode = delimiter.charCodeAt(0);
  if (isSaid || decimalComma || delimiterCode > LAST_ASCII || IN_NUMBERS.test(delimiter)) return null;
  const idIndex = map.index('point_id');
  const spans = [{ from: idIndex, to: idIndex }, ...runsOf(table.passing)];
  const scan = createPlainScan({
    cellCount,
    delimiterCode,
    comment: comment === null ? null : Buffer.from(comment, 'utf8'),
    idIndex,
    numbers: numberColumns(table),
    spans,
    blank: EMPTY_ROW,
  });
  const { place, carried, enter, standIn, lay } = createPlainPlaceRow(spans.length, delimiter);
  return ({ bytes, hasQuote }) => {
    const found = hasQuote ? null : scan(bytes);
    if (found === null) return null;
    enter({ bytes, values: found.values, spans: found.spans });
    return {
      length: found.count,
      carried,
      standIn,
      at(index) {
        lay(index);
        return place;
      },
    };
  };
}

/** The columns of numbers that the file has and that are kept. */
function numberColumns({ map, columns, position }: PlacesTable): readonly ScannedNumber[] {
  return columns.flatMap(({ name, kind, put, range, isFilled }): readonly ScannedNumber[] => {
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
function runsOf(passing: readonly PassThroughColumn[]): readonly ScannedSpan[] {
  const runs: ScannedSpan[] = [];
  for (const { index } of passing) {
    const last = runs.at(-1);
    if (last !== undefined && last.to + 1 === index) runs[runs.length - 1] = { from: last.from, to: index };
    else runs.push({ from: index, to: index });
  }
  return runs;
}
