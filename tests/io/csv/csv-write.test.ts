import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createCsvWriter, DEFAULT_CSV_WRITE } from '../../../src/io/csv/csv-write.js';

const cell = fc.oneof(fc.stringMatching(/^[-a-z0-9. éα]{0,6}$/u), fc.stringMatching(/^[a,;" \r\n]{0,4}$/u));

describe('createCsvWriter', () => {
  it('writes plain rows as csv-stringify does', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.stringMatching(/^[-a-z0-9. ;éα']{0,6}$/u), { minLength: 2, maxLength: 5 }), {
          maxLength: 5,
        }),
        (rows) => {
          expect(createCsvWriter(['a', 'b', 'c', 'd', 'e']).rows(rows)).toBe(stringify(rows));
        },
      ),
    );
  });

  it('writes rows that come back as they were, for any text, delimiter and line end', () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 1, max: 4 })
          .chain((n) => fc.array(fc.array(cell, { minLength: n, maxLength: n }), { minLength: 1, maxLength: 5 })),
        fc.constantFrom(',', ';', '\t'),
        fc.constantFrom('\n' as const, '\r\n' as const),
        (rows, delimiter, eol) => {
          // A name that stands twice is refused: see the next test.
          fc.pre(new Set(rows[0]).size === rows[0]?.length);
          const writer = createCsvWriter(rows[0] ?? [], { delimiter, eol, bom: false });
          const text = writer.header() + writer.rows(rows);
          const back: unknown = parse(text, {
            delimiter,
            record_delimiter: ['\r\n', '\n', '\r'],
            skip_empty_lines: true,
          });
          expect(back).toEqual([rows[0], ...rows]);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('refuses to write a name twice, whoever asks for it', () => {
    expect(() => createCsvWriter(['point_id', 'verdict', 'verdict'])).toThrow('the column verdict would appear twice');
  });

  it('looks for quotes only in the columns that may need them', () => {
    const writer = createCsvWriter(['id', 'x_m'], DEFAULT_CSV_WRITE, [0]);
    expect(
      writer.rows([
        ['a,b', '1.0'],
        ['c', '-2.0'],
      ]),
    ).toBe('"a,b",1.0\nc,-2.0\n');
  });

  it('keeps a formula-like and a negative cell as it is', () => {
    expect(createCsvWriter(['a', 'b']).rows([['=1+1', '-1.0']])).toBe('=1+1,-1.0\n');
  });

  it('starts with a byte order mark on request and ends lines as asked', () => {
    expect(createCsvWriter(['a', 'b"'], { delimiter: ',', eol: '\r\n', bom: true }).header()).toBe('\ufeffa,"b"""\r\n');
  });
});
