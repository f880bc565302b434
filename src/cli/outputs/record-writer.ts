import type { CellKind } from '../../io/tables/columns/cells/cell-text.js';
import { jsonCell } from '../../io/tables/columns/cells/json-cell.js';
import { createCsvWriter } from '../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../io/csv/csv-write.js';
import { createGeojsonShapeWriter } from '../../io/geojson/geojson-shape-write.js';
import type { ShapeGeometry, ShapeProperty } from '../../io/geojson/geojson-shape-write.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import type { OutputFormat } from '../../files/points/points-writer.js';
import { entryAt } from '../../records/present.js';

/** A column of any table; number cells become JSON numbers. */
export interface RecordColumn {
  readonly name: string;
  readonly kind: CellKind;
}

/** A row: its cells as text, and its geometry for GeoJSON. */
export interface WrittenRecord {
  readonly cells: readonly string[];
  readonly geometry: ShapeGeometry;
}

/** What is said once about all rows of a JSON file. */
export interface RecordHead {
  readonly schema: string;
  /** Name of the list of rows. */
  readonly list: string;
  readonly members: Readonly<Record<string, string | number | null>>;
  /** Said in JSON only: the answer of the run and its counts; null for a table that is never written as JSON. */
  readonly summary: Readonly<Record<string, unknown>> | null;
  /** Said in JSON only, after the members; ready for JSON.stringify. */
  readonly whole?: Readonly<Record<string, unknown>>;
}

/** Rows in one piece of text: few, so that they are let go before memory that is cleared often takes them for what lives long. */
const PIECE = 64;

/** The text of a table of rows in one of the output formats, piece by piece. Empty number cells are null in JSON. */
export function* recordPieces(
  format: OutputFormat,
  columns: readonly RecordColumn[],
  rows: Iterable<WrittenRecord>,
  head: RecordHead,
  csv: CsvWriteOptions,
): Generator<string> {
  const writer = createRecordWriter(format, columns, head, csv);
  yield writer.begin();
  let texts: string[] = [];
  for (const row of rows) {
    texts.push(writer.row(row));
    if (texts.length < PIECE) continue;
    yield texts.join('');
    texts = [];
  }
  yield texts.join('');
  yield writer.end();
}

/** The whole text at once, for tables that are never long. */
export function recordsText(
  format: OutputFormat,
  columns: readonly RecordColumn[],
  rows: Iterable<WrittenRecord>,
  head: RecordHead,
  csv: CsvWriteOptions,
): string {
  return [...recordPieces(format, columns, rows, head, csv)].join('');
}

/** Writes a table row by row. */
export interface RecordWriter {
  readonly begin: () => string;
  readonly row: (row: WrittenRecord) => string;
  readonly end: () => string;
}

/** A writer for a table of rows in one of the output formats. */
export function createRecordWriter(
  format: OutputFormat,
  columns: readonly RecordColumn[],
  head: RecordHead,
  csv: CsvWriteOptions,
): RecordWriter {
  switch (format) {
    case 'csv': {
      const writer = createCsvWriter(
        columns.map(({ name }) => name),
        csv,
        columns.flatMap(({ kind }, index) => (kind === 'text' ? [index] : [])),
      );
      return { begin: writer.header, row: ({ cells }) => writer.rows([cells]), end: () => '' };
    }
    case 'geojson': {
      const writer = createGeojsonShapeWriter();
      const said = Object.entries(head.members).map(([name, value]): [string, ShapeProperty] => [
        name,
        value === null || typeof value === 'string' ? value : { value, decimals: 3 },
      ]);
      return {
        begin: writer.begin,
        row: ({ cells, geometry }) =>
          writer.feature(
            geometry,
            Object.fromEntries([
              ...columns.map(({ name, kind }, index): [string, ShapeProperty] => [
                name,
                property(entryAt(cells, index), kind),
              ]),
              ...said,
            ]),
          ),
        end: writer.end,
      };
    }
    case 'jsonl':
      return { begin: () => '', row: ({ cells }) => `${jsonRow(columns, cells)}\n`, end: () => '' };
    case 'json': {
      const opening = headText(head);
      let any = false;
      return {
        begin: () => `${opening},${JSON.stringify(head.list)}:[`,
        row({ cells }) {
          const before = any ? ',\n' : '\n';
          any = true;
          return before + jsonRow(columns, cells);
        },
        end: () => (any ? '\n]}\n' : ']}\n'),
      };
    }
  }
}

/** The members of a JSON document before its list, without the end of the object. */
function headText({ schema, members, summary, whole }: RecordHead): string {
  const head = { schema, version: 1, ...members, ...(summary !== null && { summary }), ...whole };
  return JSON.stringify(head).slice(0, -1);
}

function jsonRow(columns: readonly RecordColumn[], cells: readonly string[]): string {
  const members = columns.map(
    ({ name, kind }, index) => `${JSON.stringify(name)}:${jsonCell(entryAt(cells, index), kind)}`,
  );
  return `{${members.join(',')}}`;
}

function property(cell: string, kind: RecordColumn['kind']): ShapeProperty {
  if (kind !== 'number') return cell;
  return {
    value: cell === '' ? null : parseDecimal(cell),
    decimals: cell.includes('.') ? cell.length - cell.indexOf('.') - 1 : 0,
  };
}
