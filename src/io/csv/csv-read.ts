import { failure, failureOf, success } from '../../records/outcome.js';
import type { Failure, Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { csvBlock, rowCount } from './csv-block.js';
import type { CsvBlock } from './csv-block.js';
import { DEFAULT_BLOCK_SIZES, PART_BYTES, splitCsvBlocks } from './csv-blocks.js';
import type { BlockSizes, BlockUse, ByteBlock } from './csv-blocks.js';
import { DEFAULT_DIALECT } from './csv-dialect.js';
import type { CsvDialect } from './csv-dialect.js';
import type { Source } from '../bytes/source.js';
import { inputPieceSize } from '../host/way.js';
import { entryAt } from '../../records/present.js';

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
  /** The same rows as bytes, for `csvBlock`; to be read in place of `blocks`. Null where there are no such bytes. Without a word: blocks for here. */
  readonly byteBlocks: ((use?: BlockUse) => AsyncGenerator<Outcome<ByteBlock>>) | null;
}

/**
 * Opens a delimited text file and reads its header. What is a table of itself (`isTable`) has no dialect that could be stated.
 * Problems: those of the source; csv-empty, csv-delimiter (one field that holds another delimiter),
 * csv-duplicate-column, csv-syntax, file-too-large. Rows are not compared with the header: see
 * `rowLengthProblem`. The inverse is `createCsvWriter`.
 */
export async function readCsv(
  source: Source,
  stated: CsvDialect,
  sizes: BlockSizes = DEFAULT_BLOCK_SIZES,
): Promise<Outcome<CsvTable>> {
  const dialect = source.isTable === true ? DEFAULT_DIALECT : stated;
  const own = { ...sizes };
  const stream = splitCsvBlocks(source.chunks(), dialect, source.name, own);
  for (;;) {
    const item = await stream.next();
    if (item.done === true) return emptyFile(source.name, 'holds no header and no rows');
    if (!item.value.ok) return await ended(stream, item.value);
    const first = item.value.value;
    const whole = csvBlock(first, 1, dialect, source.name);
    if (!whole.ok) return await ended(stream, whole);
    const located = whole.value;
    const firstRow = located.rows()[0];
    if (firstRow === undefined) continue;
    const header = dialect.hasHeader
      ? firstRow.map((name) => name.trim())
      : firstRow.map((_, index) => String(index + 1));
    const headerLine = located.lineOf(0);
    const problems = headerProblems(header, headerLine, dialect, source.name);
    if (problems.length > 0) return await ended(stream, failureOf(problems));
    const byteBlocks = (use: BlockUse = 'here'): AsyncGenerator<Outcome<ByteBlock>> => {
      if (use === 'threads') own.blockBytes = Math.max(own.blockBytes, inputPieceSize(PART_BYTES, 1));
      // Absent: there are none.
      const above = dialect.hasHeader ? 1 + (dialect.rowsUnderHeader ?? 0) : 0;
      return withFirst(above === 0 ? first : afterRows(first, located, above), stream);
    };
    return success({
      source: source.name,
      dialect,
      header,
      headerLine,
      headerRaw: dialect.hasHeader ? located.rawOf(0) : null,
      byteBlocks,
      blocks: () => tableBlocks(byteBlocks(), dialect, source.name),
    });
  }
}

/** The first block without its header and what belongs to it; null where nothing follows in the block. */
function afterRows(first: ByteBlock, located: CsvBlock, rows: number): ByteBlock | null {
  if (rowCount(located) <= rows) return null;
  return { ...first, bytes: first.bytes.subarray(located.startOf(rows)), firstLine: located.lineOf(rows) };
}

async function* withFirst(
  first: ByteBlock | null,
  stream: AsyncGenerator<Outcome<ByteBlock>>,
): AsyncGenerator<Outcome<ByteBlock>> {
  try {
    if (first !== null) yield success(first);
    yield* stream;
  } finally {
    await stream.return(undefined);
  }
}

/** The failure, once the file behind the stream is closed. */
async function ended(stream: AsyncGenerator, why: Failure): Promise<Failure> {
  await stream.return(undefined);
  return why;
}

async function* tableBlocks(
  stream: AsyncGenerator<Outcome<ByteBlock>>,
  dialect: CsvDialect,
  source: string,
): AsyncGenerator<Outcome<CsvBlock>> {
  let firstRecord = 1;
  for await (const block of stream) {
    const made = block.ok ? csvBlock(block.value, firstRecord, dialect, source) : block;
    if (!made.ok) {
      yield made;
      return;
    }
    const count = rowCount(made.value);
    if (count > 0) yield made;
    firstRecord += count;
  }
  if (firstRecord === 1) yield withoutRows(source);
}

/** csv-empty: a table with a header and nothing under it. */
export function withoutRows(source: string): Failure {
  return emptyFile(source, 'holds a header and no rows');
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

function headerProblems(
  header: readonly string[],
  line: number,
  dialect: CsvDialect,
  source: string,
): readonly Problem[] {
  const only = header.length === 1 ? entryAt(header, 0) : '';
  for (const [delimiter, word, option] of OTHER_DELIMITERS) {
    if (!dialect.hasHeader || delimiter === dialect.delimiter || !only.includes(delimiter)) continue;
    const message = `the header is one field that holds ${word}: ${quoted(only)}`;
    return [
      errorProblem('csv-delimiter', {
        message,
        where: { source, line, field: 1 },
        received: only,
        hint: `give ${option}`,
      }),
    ];
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
