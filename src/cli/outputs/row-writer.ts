import { createCsvWriter } from '../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../io/csv/csv-write.js';
import { assertDistinct } from '../../io/tables/columns/distinct-columns.js';
import { jsonCell } from '../../io/tables/columns/cells/json-cell.js';
import { createGeojsonWriter } from '../../io/geojson/geojson-write.js';
import type { GeojsonProperty } from '../../io/geojson/geojson-write.js';
import type { OutputFormat, PointsFrame } from '../../files/points/points-writer.js';

/** One row to be written: its cells as text, and its place for GeoJSON. */
export interface WrittenRow {
  readonly cells: readonly string[];
  /** Null, with the longitude: the place is not known, and GeoJSON gets no geometry. */
  readonly latitudeDeg: number | null;
  readonly longitudeDeg: number | null;
  readonly ellipsoidalHeightM: number | null;
}

/** Rows as text, piece by piece, in one of the output formats. */
export interface RowWriter {
  readonly begin: () => string;
  readonly rows: (rows: readonly WrittenRow[]) => string;
  /** Given: the answer of the run and its counts, which JSON says. */
  readonly end: (summary: Readonly<Record<string, unknown>>) => string;
}

/** A writer of rows under any columns. `frame` says what the positions are in, once for the file. */
export function createRowWriter(
  format: OutputFormat,
  columns: readonly GeojsonProperty[],
  frame: PointsFrame,
  csv: CsvWriteOptions,
): RowWriter {
  switch (format) {
    case 'csv': {
      const anyText = columns.flatMap(({ kind }, index) => (kind === 'text' ? [index] : []));
      const writer = createCsvWriter(
        columns.map(({ name }) => name),
        csv,
        anyText,
      );
      return { begin: writer.header, rows: (rows) => writer.rows(rows.map(({ cells }) => cells)), end: () => '' };
    }
    case 'geojson': {
      const said = [frame.frame, frame.epochYear === null ? '' : String(frame.epochYear), frame.system];
      const writer = createGeojsonWriter([
        ...columns,
        { name: 'frame', kind: 'text' },
        { name: 'frame_epoch_year', kind: 'number' },
        { name: 'system', kind: 'text' },
      ]);
      return {
        begin: writer.begin,
        end: writer.end,
        rows: (rows) => writer.points(rows.map((row) => ({ ...row, cells: [...row.cells, ...said] }))),
      };
    }
    case 'jsonl':
    case 'json':
      return jsonRows(columns, frame, format === 'jsonl');
  }
}

function jsonRows(columns: readonly GeojsonProperty[], frame: PointsFrame, areLines: boolean): RowWriter {
  const head = {
    schema: 'pegbook-points',
    version: 1,
    system: frame.system,
    frame: frame.frame,
    frame_epoch_year: frame.epochYear,
  };
  assertDistinct(columns.map(({ name }) => name));
  const keys = columns.map(({ name }) => `${JSON.stringify(name)}:`);
  let first = true;
  return {
    begin: () => (areLines ? '' : `${JSON.stringify(head).slice(0, -1)},"points":[`),
    rows(rows) {
      let text = '';
      for (const { cells } of rows) {
        const members = columns.map(({ kind }, index) => keys[index]! + jsonCell(cells[index]!, kind));
        text += areLines ? `{${members.join(',')}}\n` : `${first ? '\n' : ',\n'}{${members.join(',')}}`;
        first = false;
      }
      return text;
    },
    end: (summary) => (areLines ? '' : `${first ? '' : '\n'}],"summary":${JSON.stringify(summary)}}\n`),
  };
}
