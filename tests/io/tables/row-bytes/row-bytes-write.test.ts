import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createCsvWriter } from '../../../../src/io/csv/csv-write.js';
import { createCellTexts } from '../../../../src/io/tables/columns/cells/cell-text.js';
import { column } from '../../../../src/io/tables/columns/column.js';
import type { Column } from '../../../../src/io/tables/columns/column.js';
import { AS_GIVEN } from '../../../../src/io/tables/columns/cells/decimals.js';
import { createRowByteWriter } from '../../../../src/io/tables/row-bytes/row-bytes-write.js';

interface Row {
  readonly id: string;
  readonly word: string | null;
  readonly codes: readonly string[] | null;
  readonly bearing: number | null;
  readonly angle: number;
  readonly count: number | null;
  readonly ms: number | null;
  readonly more: readonly string[];
}
const COLUMNS: readonly Column<never, Row>[] = [
  column({ name: 'bearing_deg', kind: 'direction', unit: 'deg', decimals: 6, get: (row) => row.bearing, describe: '' }),
  column({ name: 'angle_deg', kind: 'angle', unit: 'deg', get: (row) => row.angle, describe: '' }),
  column({ name: 'id', kind: 'id', get: (row) => row.id, describe: '' }),
  column({ name: 'word', kind: 'word', get: (row) => row.word, describe: '' }),
  column({ name: 'codes', kind: 'codes', get: (row) => row.codes, describe: '' }),
  column({ name: 'count', kind: 'whole', get: (row) => row.count, describe: '' }),
  column({ name: 'epoch_utc', kind: 'time', get: (row) => row.ms, describe: '' }),
];
const NAMES = [...COLUMNS.map(({ name }) => name), 'm', 'n'];
const textsOf = createCellTexts(COLUMNS);
const cellsOf = (row: Row): string[] => [...textsOf(row), ...row.more];
const table = { names: NAMES, columns: COLUMNS, carriedOf: (row: Row) => row.more, cellsOf, marked: 'codes' };

const orNull = <T>(values: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(values, { freq: 4 });
const text = fc.oneof(fc.stringMatching(/^[\w é-]{0,8}$/u), fc.stringMatching(/^[ab,"\n]{0,4}$/u));
const row: fc.Arbitrary<Row> = fc.record({
  id: text,
  word: orNull(fc.constantFrom('yes', 'accepted')),
  codes: orNull(fc.array(fc.constantFrom('a-b', 'c'), { maxLength: 3 })),
  // Nearly a full turn, on either side of where it is printed as one.
  bearing: orNull(
    fc.oneof(
      fc.double({ min: 0, max: 360, noNaN: true }),
      fc.constantFrom(0, 359.9999994, 359.9999995, 359.9999996, 360 - 1e-12, 360),
    ),
  ),
  angle: fc.double({ min: -720, max: 720, noNaN: true }),
  count: orNull(fc.nat()),
  ms: orNull(fc.constantFrom(0, 1_772_000_000_000, 1_772_000_000_250)),
  more: fc.tuple(text, text),
});

describe('createRowByteWriter', () => {
  it.each([
    [',', '\n', false],
    [',', '\r\n', false],
    [';', '\n', false],
    [',', '\n', true],
  ] as const)('writes what the writer of texts writes: %j %j, safe for spreadsheets %s', (delimiter, eol, isSafe) => {
    const options = { delimiter, eol, bom: false, isSpreadsheetSafe: isSafe };
    const bytes = createRowByteWriter(table, options);
    const texts = createCsvWriter(NAMES, options);
    fc.assert(
      fc.property(fc.array(row, { maxLength: 15 }), (rows) => {
        for (const one of rows) bytes.add(one);
        expect(bytes.take().toString()).toBe(rows.map((one) => texts.rows([cellsOf(one)])).join(''));
      }),
      { numRuns: 200, seed: 11 },
    );
  });

  it('never writes a direction as a full turn', () => {
    const bytes = createRowByteWriter(table, { delimiter: ',', eol: '\n', bom: false });
    const one: Row = { id: 'A', word: null, codes: [], bearing: 359.9999996, angle: 360, count: 1, ms: null, more: [] };
    bytes.add(one);
    expect(bytes.take().toString()).toBe('0.000000,360.000000000,A,,,1,\n');
  });

  it('finds the marked cell of the last row among what waits', () => {
    const bytes = createRowByteWriter(table, { delimiter: ',', eol: '\n', bom: false });
    const one: Row = { id: 'A', word: 'w', codes: ['a', 'b'], bearing: 1, angle: 2, count: 1, ms: 0, more: ['x', 'y'] };
    bytes.add(one);
    bytes.add({ ...one, codes: ['c'] });
    const at = bytes.lastMarkedAt();
    expect(
      bytes
        .take()
        .toString()
        .slice(at, at + 2),
    ).toBe('c,');
    bytes.add({ ...one, id: 'A,B' });
    expect(bytes.lastMarkedAt()).toBe(-1);
  });

  it('refuses columns it has no way for', () => {
    const with_ = (other: Column<never, Row>): unknown =>
      createRowByteWriter({ ...table, columns: [other] }, { delimiter: ',', eol: '\n', bom: false });
    expect(() => with_(column({ name: 'a', kind: 'yes-no', get: () => true, describe: '' }))).toThrow();
    expect(() => with_(column({ name: 'a', kind: 'number', decimals: AS_GIVEN, get: () => 1, describe: '' }))).toThrow(
      'a',
    );
    expect(() => with_({ ...COLUMNS[0]!, get: null })).toThrow('bearing_deg');
  });
});
