import { createCsvWriter } from '../../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../../io/csv/csv-write.js';
import { createCarriedRowWriter } from '../../../io/tables/row-bytes/carried-row-write.js';
import type { CarriedRow } from '../../../io/tables/row-bytes/carried-row-write.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import type { PointOnTheWay } from '../../../tasks/transform/point-on-the-way.js';
import type { RowWriter, WrittenRow } from '../../outputs/row-writer.js';
import type { TransformTable } from './say/transform-table.js';

/** Points on their way out. */
export interface PlaceWriter {
  readonly begin: () => string;
  /** `carried`: the row in the bytes of its file, where it is still there. */
  readonly add: (row: PlaceRow, point: PointOnTheWay, carried: CarriedRow | null) => void;
  /** What was added since the last call; it holds until the next `add`. */
  readonly take: () => string | Uint8Array;
  /** The same in bytes; null where rows may not be handed over in the bytes of their file. */
  readonly takeBytes: (() => Uint8Array) | null;
  /** Given: the answer of the run and its counts, which JSON says. */
  readonly end: (summary: Readonly<Record<string, unknown>>) => string;
}

/** A writer by cells of text, in any format. */
export function textPlaceWriter(
  writer: RowWriter,
  place: (row: PlaceRow, point: PointOnTheWay) => WrittenRow,
): PlaceWriter {
  let batch: WrittenRow[] = [];
  return {
    takeBytes: null,
    begin: writer.begin,
    add(row, point) {
      batch.push(place(row, point));
    },
    take() {
      if (batch.length === 0) return '';
      const rows = batch;
      batch = [];
      return writer.rows(rows);
    },
    end: writer.end,
  };
}

/**
 * A writer of CSV straight to bytes: a row that is still in those of its file is copied from there. Given: a table whose
 * angles are decimal degrees. Returned: null where a cell may be written otherwise than it stands, for spreadsheets, or
 * is no number.
 */
export function bytePlaceWriter(table: TransformTable, csv: CsvWriteOptions): PlaceWriter | null {
  const { columns, own, cells, arrive } = table;
  const rows = csv.isSpreadsheetSafe === true ? null : createCarriedRowWriter(own, csv.delimiter, csv.eol);
  if (rows === null) return null;
  const names = columns.map(({ name }) => name);
  const texts = createCsvWriter(names, csv);
  return {
    begin: texts.header,
    add(row, point, carried) {
      if (carried !== null) rows.add(arrive(row, point), carried);
      else rows.addText(texts.rows([cells(row, point)]));
    },
    take: rows.take,
    takeBytes: rows.take,
    end: () => '',
  };
}
