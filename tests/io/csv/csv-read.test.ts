import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_BLOCK_SIZES } from '../../../src/io/csv/csv-blocks.js';
import { DEFAULT_DIALECT } from '../../../src/io/csv/csv-dialect.js';
import type { CsvDialect } from '../../../src/io/csv/csv-dialect.js';
import { readCsv, rowLengthProblem } from '../../../src/io/csv/csv-read.js';
import type { CsvTable } from '../../../src/io/csv/csv-read.js';
import type { Outcome } from '../../../src/records/outcome.js';
import { codes, stdinSource, value } from '../support.js';

interface ReadRow {
  readonly cells: readonly string[];
  readonly line: number;
  readonly raw: string;
  readonly record: number;
}

async function open(
  text: string,
  dialect: Partial<CsvDialect> = {},
  blockBytes = 1 << 20,
  chunk = 1 << 20,
): Promise<Outcome<CsvTable>> {
  return readCsv(
    await stdinSource(text, chunk),
    { ...DEFAULT_DIALECT, ...dialect },
    { ...DEFAULT_BLOCK_SIZES, blockBytes },
  );
}

async function rowsOf(table: CsvTable): Promise<ReadRow[]> {
  const rows: ReadRow[] = [];
  for await (const block of table.blocks()) {
    const got = value(block);
    got
      .rows()
      .forEach((cells, index) =>
        rows.push({ cells, line: got.lineOf(index), raw: got.rawOf(index), record: got.firstRecord + index }),
      );
  }
  return rows;
}

async function read(
  text: string,
  dialect: Partial<CsvDialect> = {},
  blockBytes?: number,
  chunk?: number,
): Promise<ReadRow[]> {
  return rowsOf(value(await open(text, dialect, blockBytes, chunk)));
}

async function lastProblem(
  text: string,
  dialect: Partial<CsvDialect> = {},
): Promise<{ code: string; line: number | undefined; message: string }> {
  const table = await open(text, dialect);
  let problems = table.problems;
  if (table.ok) for await (const block of table.value.blocks()) problems = block.problems;
  const problem = problems.at(-1);
  if (problem === undefined) throw new Error('no problem');
  return { code: problem.code, line: problem.where?.line, message: problem.message };
}

describe('readCsv', () => {
  it('strips a byte order mark from the first header', async () => {
    expect(value(await open('\ufeffpoint_id,x\nA,1\n')).header).toEqual(['point_id', 'x']);
  });

  it('reads CR LF, LF and CR line ends mixed in one file, with the line of each row', async () => {
    const rows = await read('a,b\r\n1,2\n3,4\r5,6');
    expect(rows.map((row) => row.cells)).toEqual([
      ['1', '2'],
      ['3', '4'],
      ['5', '6'],
    ]);
    expect(rows.map((row) => row.line)).toEqual([2, 3, 4]);
  });

  it('leaves out comments and blank lines and still counts them as lines', async () => {
    const rows = await read('# made up\n\na,b\n# one\n1,x # kept\n\n2,"y\n# kept too"\n#\n3,z\n', { comment: '#' });
    expect(rows.map((row) => row.cells)).toEqual([
      ['1', 'x # kept'],
      ['2', 'y\n# kept too'],
      ['3', 'z'],
    ]);
    expect(rows.map((row) => row.line)).toEqual([5, 7, 10]);
    expect(rows.map((row) => row.record)).toEqual([1, 2, 3]);
  });

  it('does not take an odd quote in a comment for the start of a quoted field', async () => {
    const rows = await read('a,b\n# it is 5" tall\n1,"x"\n2,y\n', { comment: '#' }, 4);
    expect(rows.map((row) => row.cells)).toEqual([
      ['1', 'x'],
      ['2', 'y'],
    ]);
  });

  it('leaves out skipped lines whatever quotes they hold', async () => {
    const table = value(await open('a "title\r\nsecond\na,b\n1,2\n', { skipLines: 2 }));
    expect(table.headerLine).toBe(3);
    expect((await rowsOf(table)).map((row) => row.line)).toEqual([4]);
  });

  it('gives rows back verbatim, quotes and all', async () => {
    const good = await read('a,b\r\n"1","say ""hi"""\r\n007, x \r\n');
    expect(good.map((row) => row.raw)).toEqual(['"1","say ""hi"""', '007, x ']);
    expect(good[1]?.cells).toEqual(['007', ' x ']);
  });

  it('names both columns of a repeated header', async () => {
    const table = await open('a,b, a\n1,2,3\n');
    expect(codes(table)).toEqual(['csv-duplicate-column']);
    expect(table.problems[0]?.message).toContain('columns 1 and 3');
  });

  it.each([
    ['a;b\n1;2\n', "';'"],
    ['a\tb\n1\t2\n', "'\\t'"],
    ['a|b\n1|2\n', "'|'"],
  ])('says which option mends a header of another delimiter: %j', async (text, option) => {
    const table = await open(text);
    expect(codes(table)).toEqual(['csv-delimiter']);
    expect(table.problems[0]?.hint).toContain(option);
  });

  it('refuses a file without a header and a file without rows', async () => {
    expect(codes(await open(''))).toEqual(['csv-empty']);
    expect(codes(await open('# only\n', { comment: '#' }))).toEqual(['csv-empty']);
    expect((await lastProblem('a,b\n')).code).toBe('csv-empty');
  });

  it('numbers the columns of a file without a header', async () => {
    const table = value(await open('1,2\n3,4\n', { hasHeader: false }));
    expect(table.header).toEqual(['1', '2']);
    expect((await rowsOf(table)).map((row) => row.record)).toEqual([1, 2]);
  });

  it('names the line where an unclosed quote opened, not the end of the file', async () => {
    expect(await lastProblem('a,b\n1,"2\n3,4\n5,6\n')).toMatchObject({ code: 'csv-syntax', line: 2 });
    expect((await lastProblem('a,b\n1,"2\n3,4\n')).message).toContain('opened on line 2');
  });

  it('names the line of text after a closing quote', async () => {
    expect(await lastProblem('a,b\n1,2\n"x"y,1\n3,4\n')).toMatchObject({ code: 'csv-syntax', line: 3 });
  });

  it('refuses a comment after a closing quote', async () => {
    expect(await lastProblem('a,b\n"x",1\n""# note,2\n"y",3\n', { comment: '#' })).toMatchObject({
      code: 'csv-syntax',
      line: 3,
    });
  });

  it('refuses a record beyond the bound', async () => {
    const sizes = { blockBytes: 8, maxRecordBytes: 64 };
    const plain = await readCsv(await stdinSource('x'.repeat(200), 8), DEFAULT_DIALECT, sizes);
    expect(codes(plain)).toEqual(['file-too-large']);
    const open = await readCsv(await stdinSource(`"${'x'.repeat(200)}`, 8), DEFAULT_DIALECT, sizes);
    expect(codes(open)).toEqual(['csv-syntax']);
  });

  it('judges a row by the header', () => {
    const where = { source: 'a.csv', line: 3, record: 2 };
    expect(rowLengthProblem(['1', '2'], ['a', 'b'], where)).toBeNull();
    expect(rowLengthProblem(['1', '2', '3'], ['a', 'b'], where)?.message).toBe('the row has 3 fields and the header 2');
    expect(rowLengthProblem(['  '], ['a', 'b'], where)?.message).toBe('the line holds only spaces');
  });
});

const cell = fc.oneof(
  fc.stringMatching(/^[ab#0-9 é]{0,5}$/u),
  fc.stringMatching(/^[ab#,\n\r" ]{0,6}$/u).map((text) => `"${text.replaceAll('"', '""')}"`),
);
const line = fc.oneof(
  { weight: 6, arbitrary: fc.array(cell, { minLength: 1, maxLength: 4 }).map(recordText) },
  { weight: 1, arbitrary: fc.constantFrom('# note', '# 5" tall', '') },
);
/** A record that is not by chance a comment with a quoted line end in it, which no reader could be right about. */
function recordText(cells: readonly string[]): string {
  const text = cells.join(',');
  return text.startsWith('#') && text.includes('"') ? `a${text}` : text;
}
const lineEnd = fc.constantFrom('\n', '\r\n', '\r');
const plainLine = fc.oneof(
  { weight: 6, arbitrary: fc.stringMatching(/^[ab#,0-9 é]{0,9}$/u) },
  { weight: 1, arbitrary: fc.constantFrom('# note', '') },
);
const textOf = (lines: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc
    .array(fc.tuple(lines, lineEnd), { maxLength: 12 })
    .map((parts) => `h1,h2\n${parts.map(([text, end]) => text + end).join('')}`);

/** Data rows by csv-parse over the whole text in one piece; null where it finds a syntax error. */
function whole(text: string): string[][] | null {
  try {
    const records: string[][] = parse(text, {
      comment: '#',
      comment_no_infix: true,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      skip_empty_lines: true,
    });
    return records.slice(1);
  } catch {
    return null;
  }
}

describe('block reading', () => {
  it.each([
    ['quoted', line],
    ['plain', plainLine],
  ] as const)(
    'gives the rows of csv-parse over the whole text, for %s text and any block and chunk size',
    async (_, lines) => {
      await fc.assert(
        fc.asyncProperty(
          textOf(lines),
          fc.integer({ min: 1, max: 40 }),
          fc.integer({ min: 1, max: 9 }),
          async (text, blockBytes, chunk) => {
            const expected = whole(text);
            fc.pre(expected !== null && expected.length > 0);
            const table = value(await open(text, { comment: '#' }, blockBytes, chunk));
            const got = await rowsOf(table);
            expect(got.map((row) => row.cells)).toEqual(expected);
            // Each row, cut out by its verbatim text, parses to itself; and it starts on the line named.
            const physical = text.split(/\r\n|\n|\r/u);
            for (const row of got) {
              expect(
                parse(`${row.raw}\n`, { relax_column_count: true, record_delimiter: ['\r\n', '\n', '\r'] }),
              ).toEqual([row.cells]);
              expect(row.raw.split(/\r\n|\n|\r/u)[0]).toBe(physical[row.line - 1]);
            }
          },
        ),
        { numRuns: 400 },
      );
    },
  );
});
