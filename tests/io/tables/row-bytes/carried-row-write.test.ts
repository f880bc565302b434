import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createCsvWriter } from '../../../../src/io/csv/csv-write.js';
import { createCarriedRowWriter } from '../../../../src/io/tables/row-bytes/carried-row-write.js';
import { createCellTexts } from '../../../../src/io/tables/columns/cells/cell-text.js';
import { column } from '../../../../src/io/tables/columns/column.js';
import type { Column } from '../../../../src/io/tables/columns/column.js';
import { AS_GIVEN } from '../../../../src/io/tables/columns/cells/decimals.js';
import { NO_NUMBER } from '../../../../src/io/text/write-digits.js';
import { present } from '../../../../src/records/present.js';

interface Place {
  readonly id: string;
  readonly a: number;
  readonly b: number | null;
}
const COLUMNS: readonly Column<never, Place>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ id }) => id, describe: '' }),
  column({ name: 'a_m', kind: 'number', unit: 'm', get: ({ a }) => a, describe: '' }),
  column({ name: 'latitude_deg', kind: 'latitude', unit: 'deg', get: ({ b }) => b, describe: '' }),
];

/** A line of a file whose identifier and last two cells go over as they stand. */
function carried(id: string, rest: string): Parameters<NonNullable<ReturnType<typeof writer>>['add']>[1] {
  const bytes = Buffer.from(`xx,${id},${rest}\n`);
  return {
    bytes,
    spans: Int32Array.of(9, 9, 3, 3 + id.length, 4 + id.length, bytes.length - 1),
    spansAt: 2,
    spanCount: 2,
  };
}
const writer = (eol: '\n' | '\r\n' = '\n') => createCarriedRowWriter(COLUMNS, ',', eol);
const cell = fc.stringMatching(/^[ !#$%&'()*+./:;<=>?@\w~-]{0,12}$/u);
const number = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).filter((value) => value !== NO_NUMBER),
  fc.double({ min: -1e6, max: 1e6, noNaN: true }),
);

describe('rows that are carried over in their bytes', () => {
  it.each(['\n', '\r\n'] as const)('are those of the writer of texts, with line ends %j', (eol) => {
    const rows = present(writer(eol), 'writer');
    const texts = createCsvWriter(['p', 'a', 'b', 'c', 'd'], { delimiter: ',', eol, bom: false });
    const cellsOf = createCellTexts(COLUMNS);
    const row = fc.tuple(cell, number, fc.option(number), cell, cell);
    fc.assert(
      fc.property(fc.array(row, { maxLength: 20 }), (list) => {
        for (const [id, a, b, c, d] of list) rows.add({ id, a, b }, carried(id, `${c},${d}`));
        const expected = texts.rows(list.map(([id, a, b, c, d]) => [...cellsOf({ id, a, b }), c, d]));
        expect(Buffer.from(rows.take()).toString()).toBe(expected);
      }),
      { numRuns: 300, seed: 3 },
    );
  });

  it('stand in their order beside rows of text, whatever their length', () => {
    const rows = present(writer(), 'writer');
    const long = 'é'.repeat(200_000);
    rows.add({ id: 'A', a: 1, b: null }, carried('A', 'c,d'));
    rows.addText(`${long},x\n`);
    rows.add({ id: 'B', a: -0.00004, b: 2 }, carried('B', `${'y'.repeat(300_000)},d`));
    expect(Buffer.from(rows.take()).toString()).toBe(
      `A,1.0000,,c,d\n${long},x\nB,0.0000,2.000000000,${'y'.repeat(300_000)},d\n`,
    );
    expect(rows.take()).toHaveLength(0);
  });

  it('are none where a column is no number of fixed decimals, or the first no identifier', () => {
    const [id, a] = COLUMNS as [Column<never, Place>, Column<never, Place>];
    for (const other of [
      column({ name: 'word', kind: 'word', get: () => 'x', describe: '' }),
      column({ name: 'azimuth', kind: 'direction', unit: 'deg', get: () => 1, describe: '' }),
      column({ name: 'as_given', kind: 'number', decimals: AS_GIVEN, get: () => 1, describe: '' }),
    ])
      expect(createCarriedRowWriter([id, a, other], ',', '\n'), other.name).toBeNull();
    expect(createCarriedRowWriter([a], ',', '\n')).toBeNull();
    expect(createCarriedRowWriter([id, ...Array.from({ length: 33 }, () => a)], ',', '\n')).toBeNull();
  });
});
