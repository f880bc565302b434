import { Buffer } from 'node:buffer';
import { failure, success } from '../records/outcome.js';
import type { Failure, Outcome } from '../records/outcome.js';
import { errorProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import { DEFAULT_BLOCK_SIZES, splitCsvBlocks } from './csv-blocks.js';
import type { BlockSizes, ByteBlock } from './csv-blocks.js';
import type { CsvDialect } from './csv-dialect.js';
import { quotedRows } from './csv-rows.js';
import { scanCsv } from './csv-scan.js';
import { plainRecords, plainRow } from './plain-records.js';
import type { PlainRecords } from './plain-records.js';
import type { Source } from './source.js';

/** Rows of text that follow each other in the file. */
export interface CsvBlock {
  /** Decoded when first asked for. */
  readonly rows: readonly (readonly string[])[];
  /** The same rows as bytes, where no quote occurs among them; else null. */
  readonly plain: PlainRecords | null;
  /** Data record number, from 1, of the first row. */
  readonly firstRecord: number;
  /** Line on which a row of this block starts, from 1. */
  readonly lineOf: (rowIndex: number) => number;
  /** The row as it stands in the file, without its line end. */
  readonly rawOf: (rowIndex: number) => string;
}

/** A delimited text file: its header, and its rows block by block. */
export interface CsvTable {
  readonly source: string;
  readonly dialect: CsvDialect;
  /** Trimmed names; `1`, `2`, … when the file has no header row. */
  readonly header: readonly string[];
  readonly headerLine: number;
  /** The header as it stands in the file; null without a header row. */
  readonly headerRaw: string | null;
  /** A failure is the last item. May be read once. */
  readonly blocks: () => AsyncGenerator<Outcome<CsvBlock>>;
}

/**
 * Opens a delimited text file and reads its header.
 * Problems: those of the source; csv-empty, csv-delimiter (one field that holds another delimiter),
 * csv-duplicate-column, csv-syntax, file-too-large. Rows are not compared with the header: see
 * `rowLengthProblem`. The inverse is `createCsvWriter`.
 */
export async function readCsv(
  source: Source,
  dialect: CsvDialect,
  sizes: BlockSizes = DEFAULT_BLOCK_SIZES,
): Promise<Outcome<CsvTable>> {
  const stream = splitCsvBlocks(source.chunks(), dialect, source.name, sizes);
  for (;;) {
    const item = await stream.next();
    if (item.done === true) return emptyFile(source.name, 'holds no header and no rows');
    if (!item.value.ok) return item.value;
    const first = item.value.value;
    const whole = csvBlock(first, 0, 1, dialect, source.name);
    if (!whole.ok) return whole;
    const located = whole.value;
    const firstRow = located.rows[0];
    if (firstRow === undefined) continue;
    const headerRows = dialect.hasHeader ? 1 : 0;
    const header = dialect.hasHeader ? firstRow.map((name) => name.trim()) : firstRow.map((_, index) => String(index + 1));
    const headerLine = located.lineOf(0);
    const problems = headerProblems(header, headerLine, dialect, source.name);
    if (problems.length > 0) {
      await stream.return(undefined);
      return failure(...problems);
    }
    return success({
      source: source.name,
      dialect,
      header,
      headerLine,
      headerRaw: dialect.hasHeader ? located.rawOf(0) : null,
      blocks: () => tableBlocks(stream, first, headerRows, dialect, source.name),
    });
  }
}

async function* tableBlocks(
  stream: AsyncGenerator<Outcome<ByteBlock>>,
  first: ByteBlock,
  headerRows: number,
  dialect: CsvDialect,
  source: string,
): AsyncGenerator<Outcome<CsvBlock>> {
  const head = csvBlock(first, headerRows, 1, dialect, source);
  let firstRecord = 1;
  if (head.ok) {
    const count = rowCount(head.value);
    if (count > 0) yield head;
    firstRecord += count;
  }
  for await (const block of stream) {
    if (!block.ok) {
      yield block;
      return;
    }
    const made = csvBlock(block.value, 0, firstRecord, dialect, source);
    if (!made.ok) {
      yield made;
      return;
    }
    const count = rowCount(made.value);
    if (count > 0) yield made;
    firstRecord += count;
  }
  if (firstRecord === 1) yield emptyFile(source, 'holds a header and no rows');
}

function rowCount(block: CsvBlock): number {
  return block.plain === null ? block.rows.length : block.plain.count;
}

/** A block read, without its first `headerRows` records. */
function csvBlock(block: ByteBlock, headerRows: number, firstRecord: number, dialect: CsvDialect, source: string): Outcome<CsvBlock> {
  if (!block.hasQuote) return success(plainBlock(block, headerRows, firstRecord, dialect));
  const rows = quotedRows(block, dialect, source);
  if (!rows.ok) return rows;
  let located: LocatedRows | null = null;
  const locate = (): LocatedRows => (located ??= locateRows(block, dialect));
  return success({
    rows: headerRows > 0 ? rows.value.slice(headerRows) : rows.value,
    plain: null,
    firstRecord,
    lineOf: (rowIndex) => locate().lineOf(rowIndex + headerRows),
    rawOf: (rowIndex) => locate().rawOf(rowIndex + headerRows),
  });
}

function plainBlock(block: ByteBlock, headerRows: number, firstRecord: number, dialect: CsvDialect): CsvBlock {
  const comment = dialect.comment === null ? null : Buffer.from(dialect.comment, 'utf8');
  const plain = plainRecords(block.bytes, block.firstLine, comment, headerRows);
  let rows: (readonly string[])[] | null = null;
  return {
    plain,
    get rows() {
      return (rows ??= Array.from({ length: plain.count }, (_, index) => plainRow(plain, index, dialect.delimiter)));
    },
    firstRecord,
    lineOf: plain.lineOf,
    rawOf: (rowIndex) => block.bytes.toString('utf8', plain.startOf(rowIndex), plain.endOf(rowIndex)),
  };
}

interface LocatedRows {
  readonly lineOf: (index: number) => number;
  readonly rawOf: (index: number) => string;
}

/** Finds the records of a block again; done only when a line number or a verbatim row is asked for. */
function locateRows(block: ByteBlock, dialect: CsvDialect): LocatedRows {
  const starts: number[] = [];
  const ends: number[] = [];
  const lines: number[] = [];
  const comment = dialect.comment === null ? null : Buffer.from(dialect.comment, 'utf8');
  scanCsv(block.bytes, block.firstLine, comment, true, (start, end, line) => {
    starts.push(start);
    ends.push(end);
    lines.push(line);
  });
  return {
    lineOf: (index) => lines[index] ?? 0,
    rawOf: (index) => block.bytes.toString('utf8', starts[index] ?? 0, ends[index] ?? 0),
  };
}

function emptyFile(source: string, message: string): Failure {
  return failure(
    errorProblem('csv-empty', { message, where: { source }, hint: 'check the file, --skip-lines and --comment' }),
  );
}

const OTHER_DELIMITERS: readonly (readonly [string, string, string])[] = [
  [';', 'semicolons', "--delimiter ';'"],
  ['\t', 'tabs', "--delimiter '\\t'"],
  ['|', 'bars', "--delimiter '|'"],
  [',', 'commas', "--delimiter ','"],
];

function headerProblems(header: readonly string[], line: number, dialect: CsvDialect, source: string): readonly Problem[] {
  const only = header.length === 1 ? (header[0] ?? '') : '';
  for (const [delimiter, word, option] of OTHER_DELIMITERS) {
    if (!dialect.hasHeader || delimiter === dialect.delimiter || !only.includes(delimiter)) continue;
    const message = `the header is one field that holds ${word}: ${quoted(only)}`;
    return [errorProblem('csv-delimiter', { message, where: { source, line, field: 1 }, received: only, hint: `give ${option}` })];
  }
  const problems: Problem[] = [];
  const seen = new Map<string, number>();
  header.forEach((name, index) => {
    const earlier = seen.get(name);
    if (earlier === undefined) {
      seen.set(name, index);
      return;
    }
    const what = name === '' ? 'have no name' : `are both named ${quoted(name)}`;
    problems.push(
      errorProblem('csv-duplicate-column', {
        message: `columns ${String(earlier + 1)} and ${String(index + 1)} ${what}`,
        where: { source, line, field: index + 1, column: name },
        hint: 'rename one of them in the file',
      }),
    );
  });
  return problems;
}

function quoted(text: string): string {
  return `"${text.length > 60 ? `${text.slice(0, 60)}…` : text}"`;
}

/** csv-row-length when a row has more or fewer fields than the header; else null. */
export function rowLengthProblem(
  row: readonly string[],
  header: readonly string[],
  where: { readonly source: string; readonly line: number; readonly record: number },
): Problem | null {
  if (row.length === header.length) return null;
  const isBlank = row.length === 1 && row[0]?.trim() === '';
  const fields = `${String(row.length)} ${row.length === 1 ? 'field' : 'fields'}`;
  const message = isBlank
    ? 'the line holds only spaces'
    : `the row has ${fields} and the header ${String(header.length)}`;
  const hint = isBlank
    ? 'delete the line'
    : 'mend the row; a decimal comma needs --decimal-comma and another delimiter, a delimiter inside a text needs quotes';
  return errorProblem('csv-row-length', { message, where, hint });
}
