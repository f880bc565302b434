import { createHash } from 'node:crypto';
import type { Buffer } from 'node:buffer';
import { VERSION } from '../../records/runs/version.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { Source } from '../bytes/source.js';
import { DEFAULT_DIALECT } from '../csv/csv-dialect.js';
import { readCsv } from '../csv/csv-read.js';
import type { CsvTable } from '../csv/csv-read.js';
import { createCsvWriter } from '../csv/csv-write.js';
import { createTypeFinder, instantOf, MOST_DIGITS } from './column-types.js';
import type { CellType, KnownColumn } from './column-types.js';
import { BODY_DIGEST, COLUMN_WORDS, ROWS_DIGEST, WRITER_VERSION } from './parquet-metadata.js';
import { packageMissing } from './parquet-name.js';

/** What turns the CSV of an output into Parquet, for `Sink.rewrite`. */
export interface ParquetChange {
  readonly change: (chunks: AsyncIterable<Buffer>) => AsyncIterable<Uint8Array>;
  /** Why it could not, after it was gone through; null: it could. */
  readonly problem: () => Problem | null;
}

type Package = typeof import('hyparquet-writer');

/** Cells of a row group: its columns are held until it is full. */
const GROUP_CELLS = 400_000;
const LEAST_ROWS = 1000;

/**
 * Makes Parquet of the CSV of a table, a row group after another. What is read of it again is the same text: each column has the type that
 * gives its cells back (`createTypeFinder`); an empty cell is null.
 * Given: the name of the output; what is known of a column by its name. Problems: parquet-package-missing; usage-conflict, by
 * `problem`, where what was written is no table.
 */
export async function parquetChange(
  name: string,
  known: (column: string) => KnownColumn | null,
): Promise<Outcome<ParquetChange>> {
  const parquet = await import('hyparquet-writer').catch(() => null);
  if (parquet === null) return packageMissing(name, 'hyparquet-writer');
  let problem: Problem | null = null;

  return success({
    async *change(chunks) {
      const types = await typesOf(chunks, name, known);
      const table = types === null ? null : await tableOf(chunks, name);
      if (types === null || table === null) problem = noTable(name);
      else yield* piecesOf(parquet, table, types, known);
    },
    problem: () => problem,
  });
}

/** A table as the bytes of Parquet, a row group at a time. */
async function* piecesOf(
  { ByteWriter, ParquetWriter }: Package,
  table: CsvTable,
  types: readonly CellType[],
  known: (column: string) => KnownColumn | null,
): AsyncGenerator<Uint8Array> {
  const { header } = table;
  const bytes = new ByteWriter();
  const writer = new ParquetWriter({
    writer: bytes,
    schema: [
      { name: 'root', num_children: header.length },
      ...header.map((column, index) => elementOf(column, types[index] as CellType)),
    ],
    createdBy: `pegbook ${VERSION}`,
  });
  const size = Math.max(LEAST_ROWS, Math.floor(GROUP_CELLS / header.length));
  const body = createHash('sha256');
  let length = 0;
  const taken = (): Uint8Array => {
    const piece = new Uint8Array(bytes.buffer, 0, bytes.index).slice();
    bytes.index = 0;
    body.update(piece);
    length += piece.length;
    return piece;
  };
  const csv = createCsvWriter(header);
  const hash = createHash('sha256').update(csv.header());
  let columns: unknown[][] = header.map(() => []);
  const close = async (): Promise<void> => {
    const data = header.map((column, index) => ({ name: column, data: columns[index] as unknown[] }));
    columns = header.map(() => []);
    if (data[0]?.data.length !== 0) await writer.write({ columnData: data, rowGroupSize: size });
  };
  for await (const rows of rowsOf(table)) {
    hash.update(csv.rows(rows));
    for (const row of rows) {
      for (let index = 0; index < header.length; index += 1)
        columns[index]?.push(valueOf(row[index] as string, types[index] as CellType));
      if (columns[0]?.length !== size) continue;
      await close();
      yield taken();
    }
  }
  await close();
  yield taken();
  writer.kvMetadata = [
    { key: WRITER_VERSION, value: VERSION },
    { key: BODY_DIGEST, value: `${String(length)} ${body.copy().digest('hex')}` },
    { key: ROWS_DIGEST, value: hash.digest('hex') },
    { key: COLUMN_WORDS, value: JSON.stringify(header.flatMap((column) => wordsOf(column, known(column)))) },
  ];
  await writer.finish();
  yield taken();
}

/** The types of the columns of a table; null: it is none, of two columns at least and rows as long as the header. */
async function typesOf(
  chunks: AsyncIterable<Buffer>,
  name: string,
  known: (column: string) => KnownColumn | null,
): Promise<readonly CellType[] | null> {
  const table = await tableOf(chunks, name);
  if (table === null || table.header.length < 2) return null;
  const finders = table.header.map((column) => createTypeFinder(column, known(column)));
  for await (const rows of rowsOf(table))
    for (const row of rows) {
      if (row.length !== finders.length) return null;
      for (let index = 0; index < finders.length; index += 1) finders[index]?.see(row[index] as string);
    }
  return finders.map(({ found }) => found());
}

async function tableOf(chunks: AsyncIterable<Buffer>, name: string): Promise<CsvTable | null> {
  const table = await readCsv(textSource(chunks, name), DEFAULT_DIALECT);
  return table.ok ? table.value : null;
}

/** Rows block by block. Of a table without rows, none. */
async function* rowsOf(table: CsvTable): AsyncGenerator<readonly (readonly string[])[]> {
  for await (const block of table.blocks()) if (block.ok) yield block.value.rows();
}

const MARK = '\ufeff';

/** What was written, as an input. */
function textSource(chunks: AsyncIterable<Buffer>, name: string): Source {
  async function* text(): AsyncGenerator<Outcome<Buffer>> {
    let isFirst = true;
    for await (const chunk of chunks) {
      const isMarked = isFirst && chunk.subarray(0, 3).toString('utf8') === MARK;
      yield success(isMarked ? chunk.subarray(3) : chunk);
      isFirst = false;
    }
  }
  return {
    name,
    path: null,
    size: null,
    version: null,
    chunks: text,
    digest: () => ({ name, bytes: 0, sha256: '' }),
    encoding: () => null,
    close: async () => undefined,
  };
}

type SchemaElement = ConstructorParameters<Package['ParquetWriter']>[0]['schema'][number];

/** How a column stands in the schema of the file. */
function elementOf(name: string, type: CellType): SchemaElement {
  const optional = { name, repetition_type: 'OPTIONAL' } as const;
  switch (type.kind) {
    case 'text':
      return { ...optional, type: 'BYTE_ARRAY', converted_type: 'UTF8', logical_type: { type: 'STRING' } };
    case 'time':
      return {
        ...optional,
        type: 'INT64',
        converted_type: 'TIMESTAMP_MILLIS',
        logical_type: { type: 'TIMESTAMP', isAdjustedToUTC: true, unit: 'MILLIS' },
      };
    case 'number': {
      const { decimals: scale } = type;
      if (scale === 0) return { ...optional, type: 'INT64' };
      return {
        ...optional,
        type: 'INT64',
        converted_type: 'DECIMAL',
        precision: MOST_DIGITS,
        scale,
        logical_type: { type: 'DECIMAL', precision: MOST_DIGITS, scale },
      };
    }
  }
}

/** The value of a cell in a column of a type. */
function valueOf(cell: string, { kind }: CellType): unknown {
  if (cell === '') return null;
  switch (kind) {
    case 'text':
      return cell;
    case 'time':
      return instantOf(cell);
    case 'number':
      return BigInt(cell.replace('.', ''));
  }
}

/** What the file says of a column that is known. */
function wordsOf(name: string, known: KnownColumn | null): readonly Readonly<Record<string, string>>[] {
  if (known === null) return [];
  const unit = known.unit === undefined ? {} : { unit: known.unit };
  return [{ name, ...unit, holds: known.describe.replaceAll('`', '') }];
}

/** usage-conflict: Parquet holds tables. */
function noTable(name: string): Problem {
  return errorProblem('usage-conflict', {
    message: 'what this run writes there is no table, and Parquet holds nothing else',
    where: { source: name },
    hint: 'give the file another ending',
  });
}
