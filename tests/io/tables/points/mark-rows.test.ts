import { Buffer } from 'node:buffer';
import { describe, expect, it } from 'vitest';
import { createCsvWriter } from '../../../../src/io/csv/csv-write.js';
import { createGeojsonWriter } from '../../../../src/io/geojson/geojson-write.js';
import { markRows } from '../../../../src/io/tables/points/mark-rows.js';
import type { WrittenRows } from '../../../../src/io/tables/points/mark-rows.js';

// Rows whose texts hold all that could mislead: quotes, delimiters, line ends and the very words that are sought.
const NAMES = ['point_id', 'verdict', 'reasons', 'note'];
const CELLS = [
  ['A', 'accepted', '', 'plain'],
  ['B "x", y', 'accepted', '', '"verdict":"accepted","reasons":null'],
  ['C\nover, two lines', 'review', 'point-drift', 'a "quoted" cell, and\r\nanother line'],
  ['Ü–4', 'accepted', '', ''],
  ['E', 'review', 'point-step;point-drift', 'é,"'],
];
const MARKED = new Set([1, 2, 4]);

const csv = (
  options: { eol: '\n' | '\r\n'; bom: boolean },
  cells: readonly (readonly string[])[],
  hasHeader = true,
): string => {
  const writer = createCsvWriter(NAMES, { delimiter: ',', isSpreadsheetSafe: false, ...options });
  return (hasHeader ? writer.header() : '') + writer.rows(cells);
};
const geojson = (cells: readonly (readonly string[])[]): string => {
  const writer = createGeojsonWriter(NAMES.map((name) => ({ name, kind: 'text' })));
  return (
    writer.begin() +
    writer.points(cells.map((own) => ({ latitudeDeg: 1, longitudeDeg: 2, ellipsoidalHeightM: null, cells: own }))) +
    writer.end()
  );
};
const json = (cells: readonly (readonly string[])[]): string =>
  `{"schema":"pegbook-points","points":[\n${cells.map(([id, verdict, reasons, note]) => JSON.stringify({ point_id: id, verdict, reasons: reasons === '' ? [] : reasons?.split(';'), note })).join(',\n')}\n]}\n`;

const after = CELLS.map(
  ([id, verdict, reasons, note], row) =>
    (MARKED.has(row)
      ? [id, 'review', [...(reasons === '' ? [] : [reasons]), 'point-repeat-disagrees'].join(';'), note]
      : [id, verdict, reasons, note]) as string[],
);

async function* pieces(bytes: Buffer, size: number): AsyncGenerator<Buffer> {
  for (let at = 0; at < bytes.length; at += size) yield await Promise.resolve(bytes.subarray(at, at + size));
}

async function changed(text: string, size: number, rows: WrittenRows): Promise<string> {
  const change = markRows(
    rows,
    (row) => MARKED.has(row),
    (_, old) => ({ verdict: 'review', reasons: [...old.reasons, 'point-repeat-disagrees'] }),
  );
  const out: Buffer[] = [];
  for await (const piece of change(pieces(Buffer.from(text, 'utf8'), size))) out.push(Buffer.from(piece));
  return Buffer.concat(out).toString('utf8');
}

describe('rows marked after they were written', () => {
  const kinds: readonly (readonly [string, string, string, WrittenRows])[] = [
    [
      'CSV',
      csv({ eol: '\n', bom: false }, CELLS),
      csv({ eol: '\n', bom: false }, after),
      { format: 'csv', verdictColumn: 1, hasHeader: true },
    ],
    [
      'CSV with a mark of order and line ends of two bytes',
      csv({ eol: '\r\n', bom: true }, CELLS),
      csv({ eol: '\r\n', bom: true }, after),
      { format: 'csv', verdictColumn: 1, hasHeader: true },
    ],
    [
      'CSV without a header',
      csv({ eol: '\n', bom: false }, CELLS, false),
      csv({ eol: '\n', bom: false }, after, false),
      { format: 'csv', verdictColumn: 1, hasHeader: false },
    ],
    [
      'CSV whose reasons come last',
      'point_id,verdict,reasons\r\na,accepted,\r\nb,accepted,\r\nc,review,x\r\n',
      'point_id,verdict,reasons\r\na,accepted,\r\nb,review,point-repeat-disagrees\r\nc,review,x;point-repeat-disagrees\r\n',
      { format: 'csv', verdictColumn: 1, hasHeader: true },
    ],
    ['GeoJSON', geojson(CELLS), geojson(after), { format: 'geojson', verdictColumn: 1, hasHeader: true }],
    ['JSON', json(CELLS), json(after), { format: 'json', verdictColumn: 1, hasHeader: true }],
  ];
  it.each(kinds)(
    'are as if they had been written so, however the bytes are cut: %s',
    async (_, before, wanted, rows) => {
      for (const size of [1, 2, 3, 7, 50, 1 << 20]) expect(await changed(before, size, rows)).toBe(wanted);
    },
  );
});
