import { createCsvWriter } from '../io/csv-write.js';
import type { CsvWriteOptions } from '../io/csv-write.js';
import { createGeojsonShapeWriter } from '../io/geojson-shape-write.js';
import type { ShapeGeometry, ShapeProperty } from '../io/geojson-shape-write.js';
import { parseDecimal } from '../core/numeric/decimal-text.js';
import type { OutputFormat } from './workbench.js';

/** A column of any table; number cells become JSON numbers. */
export interface RecordColumn {
  readonly name: string;
  readonly kind: 'number' | 'text';
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
}

/** The whole text of a table of rows in one of the output formats. Empty number cells are null in JSON. */
export function recordsText(format: OutputFormat, columns: readonly RecordColumn[], rows: readonly WrittenRecord[], head: RecordHead, csv: CsvWriteOptions): string {
  switch (format) {
    case 'csv': {
      const writer = createCsvWriter(columns.map(({ name }) => name), csv, columns.flatMap(({ kind }, index) => (kind === 'text' ? [index] : [])));
      return writer.header() + writer.rows(rows.map(({ cells }) => cells));
    }
    case 'geojson': {
      const writer = createGeojsonShapeWriter();
      const said = Object.entries(head.members).map(([name, value]): [string, ShapeProperty] => [name, value === null || typeof value === 'string' ? value : { value, decimals: 3 }]);
      const features = rows.map(({ cells, geometry }) => writer.feature(geometry, Object.fromEntries([...columns.map(({ name, kind }, index): [string, ShapeProperty] => [name, property(cells[index] ?? '', kind)]), ...said])));
      return writer.begin() + features.join('') + writer.end();
    }
    case 'json': {
      const lines = rows.map(({ cells }) => `{${columns.map(({ name, kind }, index) => `${JSON.stringify(name)}:${jsonCell(cells[index] ?? '', kind)}`).join(',')}}`);
      const opening = JSON.stringify({ schema: head.schema, version: 1, ...head.members }).slice(0, -1);
      return `${opening},${JSON.stringify(head.list)}:[${lines.map((line, index) => `${index === 0 ? '\n' : ',\n'}${line}`).join('')}${lines.length > 0 ? '\n' : ''}]}\n`;
    }
  }
}

function property(cell: string, kind: RecordColumn['kind']): ShapeProperty {
  if (kind === 'text') return cell;
  return { value: cell === '' ? null : parseDecimal(cell), decimals: cell.includes('.') ? cell.length - cell.indexOf('.') - 1 : 0 };
}

function jsonCell(cell: string, kind: RecordColumn['kind']): string {
  if (kind === 'number') return cell === '' ? 'null' : cell;
  return JSON.stringify(cell);
}
