import type { AsyncBuffer, FileMetaData, ParquetParsers, SchemaElement } from 'hyparquet';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { entryAt } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import { memoryRoomBytes } from '../bytes/memory-room.js';
import { storedCells, textOfBytes } from './parquet-cells.js';
import type { StoredCells } from './parquet-cells.js';
import { BODY_DIGEST, ROWS_DIGEST } from './parquet-metadata.js';
import { packageMissing } from './parquet-name.js';
import { faultOfGroup } from './parquet-group.js';
import { badValue, broken, groupTooLarge, unknownCodec, unknownType } from './parquet-problems.js';
import { canUnpack, unpackers } from './parquet-unpack.js';

/** A table in a Parquet file. */
export interface ParquetTable {
  readonly names: readonly string[];
  /** Rows as texts, some at a time; a failure is the last item. May be read once. */
  readonly rows: () => AsyncGenerator<Outcome<readonly (readonly string[])[]>>;
  /** SHA-256 that its rows have as CSV, as whoever wrote it said; null: it says none. */
  readonly rowsSha256: string | null;
  /** How many of its first bytes hold the rows, and their SHA-256, as whoever wrote it said; null: it says none. */
  readonly body: { readonly length: number; readonly sha256: string } | null;
}

type Package = typeof import('hyparquet');

/** Rows handed on at a time. */
const ROWS = 2000;
/** Part of the memory there is that the values of one row group may take unpacked. */
const ROOM_TAKEN = 0.25;
const MOST_CELLS = 64e6;

/**
 * Opens a table of Parquet.
 * Given: the name of the file; its bytes, any part at a time. Problems: parquet-package-missing; parquet-invalid;
 * parquet-column for a column of a type that no table of text has; csv-duplicate-column; with the rows those too of
 * their values, located, parquet-codec and file-too-large. What `bytes` throws passes through.
 */
export async function openParquetTable(source: string, bytes: AsyncBuffer): Promise<Outcome<ParquetTable>> {
  const parquet = await import('hyparquet').catch(() => null);
  if (parquet === null) return packageMissing(source, 'hyparquet');
  let metadata: FileMetaData;
  try {
    metadata = await parquet.parquetMetadataAsync(bytes, { parsers: PARSERS, geoparquet: false });
  } catch (error) {
    return broken(source, error);
  }
  // A file without a schema has no first element.
  const children = metadata.schema.slice(1);
  const names = children.map(({ name }) => name);
  const twice = names.find((name, index) => names.indexOf(name) !== index);
  if (twice !== undefined)
    return failure(
      errorProblem('csv-duplicate-column', {
        message: `two columns are named "${twice}"`,
        where: { source, column: twice },
        hint: 'rename one of them in the file',
      }),
    );
  const cells: StoredCells[] = [];
  for (const element of children) {
    const own = storedCells(element);
    if (own === null) return unknownType(source, element);
    cells.push(own);
    Object.assign(element, readAs(element, own.as));
  }
  return success({
    names,
    rows: () => rowsOf(parquet, { source, bytes, metadata, names, cells }),
    rowsSha256: wordOf(metadata, ROWS_DIGEST),
    body: bodyOf(wordOf(metadata, BODY_DIGEST)),
  });
}

/** What a file says of itself under a key; null: nothing, as another's does of ours. */
function wordOf({ key_value_metadata: words }: FileMetaData, wanted: string): string | null {
  return words?.find(({ key }) => key === wanted)?.value ?? null;
}

function bodyOf(said: string | null): ParquetTable['body'] {
  const [length, sha256] = said === null ? [] : said.split(' ');
  const bytes = length === undefined ? null : parseDecimal(length);
  return bytes === null || sha256 === undefined ? null : { length: bytes, sha256 };
}

/** Instants as they are stored, text as text where its bytes are one. */
const PARSERS: ParquetParsers = {
  timestampFromMilliseconds: (value) => value,
  timestampFromMicroseconds: (value) => value,
  timestampFromNanoseconds: (value) => value,
  dateFromDays: (value) => value,
  stringFromBytes: textOfBytes,
  jsonFromBytes: (value) => value,
  geometryFromBytes: (value) => value,
  geographyFromBytes: (value) => value,
  uuidFromBytes: uuidText,
};

/** What of a column's type the package is told: nothing of what it would make a number of its own of. */
function readAs({ type, converted_type, logical_type }: SchemaElement, as: StoredCells['as']): Partial<SchemaElement> {
  const untyped = { converted_type: undefined, logical_type: undefined } as unknown as Partial<SchemaElement>;
  switch (as) {
    case 'stored':
      return untyped;
    case 'bytes':
      return { ...untyped, converted_type: 'JSON' };
    case 'text':
      return type === 'BYTE_ARRAY' ? { ...untyped, converted_type: 'UTF8' } : untyped;
    case 'typed':
      return {
        ...(converted_type !== undefined && { converted_type }),
        ...(logical_type !== undefined && { logical_type }),
      };
  }
}

interface OpenedTable {
  readonly source: string;
  readonly bytes: AsyncBuffer;
  readonly metadata: FileMetaData;
  readonly names: readonly string[];
  readonly cells: readonly StoredCells[];
}

/** The rows of all row groups, one group after another. */
async function* rowsOf(
  parquet: Package,
  { source, bytes, metadata, names, cells }: OpenedTable,
): AsyncGenerator<Outcome<readonly (readonly string[])[]>> {
  let first = 0;
  const file = watched(bytes);
  for (const group of metadata.row_groups) {
    const count = Number(group.num_rows);
    const unread = group.columns.find(({ meta_data: meta }) => !canUnpack(meta?.codec));
    if (unread !== undefined) {
      yield unknownCodec(source, String(unread.meta_data?.codec));
      return;
    }
    const unpacked = group.columns.reduce((sum, { meta_data: meta }) => sum + Number(meta?.total_uncompressed_size), 0);
    if (unpacked > ROOM_TAKEN * memoryRoomBytes() || count * names.length > MOST_CELLS) {
      yield groupTooLarge(source, unpacked, count);
      return;
    }
    const columns = new Map<string, { readonly from: number; readonly values: ArrayLike<unknown> }[]>();
    try {
      const fault = await faultOfGroup(file, group, metadata.schema.slice(1), count);
      if (fault !== null) {
        yield broken(source, new Error(fault));
        return;
      }
      await parquet.parquetRead({
        file,
        metadata,
        rowStart: first,
        rowEnd: first + count,
        compressors: unpackers(),
        parsers: PARSERS,
        geoparquet: false,
        onChunk({ columnName, columnData, rowStart }) {
          // The first of its column.
          const chunks = columns.get(columnName) ?? [];
          chunks.push({ from: rowStart, values: columnData });
          columns.set(columnName, chunks);
        },
      });
    } catch (error) {
      if (file.error() !== null) throw file.error();
      yield broken(source, error);
      return;
    }
    for (let from = first; from < first + count; from += ROWS) {
      const rows: string[][] = Array.from({ length: Math.min(ROWS, first + count - from) }, () => []);
      for (const [index, name] of names.entries()) {
        const bad = addCells(rows, from, columns.get(name), entryAt(cells, index));
        if (bad === null) continue;
        yield bad.value === undefined && bad.isAbsent
          ? broken(source, new Error(`row ${String(bad.row + 1)} of ${name} is not there`))
          : badValue(source, name, bad.row, bad.value);
        return;
      }
      yield success(rows);
    }
    first += count;
  }
}

/** Adds one cell to each row; the first value that is none, or null. */
function addCells(
  rows: readonly string[][],
  from: number,
  chunks: readonly { readonly from: number; readonly values: ArrayLike<unknown> }[] | undefined,
  { textOf }: StoredCells,
): { readonly row: number; readonly value: unknown; readonly isAbsent: boolean } | null {
  let at = 0;
  for (let index = 0; index < rows.length; index += 1) {
    const row = from + index;
    let chunk = chunks?.[at];
    while (chunk !== undefined && row >= chunk.from + chunk.values.length) chunk = chunks?.[(at += 1)];
    if (chunk === undefined || row < chunk.from) return { row, value: undefined, isAbsent: true };
    const value = chunk.values[row - chunk.from];
    const text = value === null || value === undefined ? '' : textOf(value);
    if (text === null) return { row, value, isAbsent: false };
    rows[index]?.push(text);
  }
  return null;
}

/** The same bytes; what their reading threw is kept, since the package hands on an error of its own. */
function watched(bytes: AsyncBuffer): AsyncBuffer & { readonly error: () => unknown } {
  let error: unknown = null;
  return {
    byteLength: bytes.byteLength,
    error: () => error,
    async slice(start, end) {
      try {
        return await bytes.slice(start, end);
      } catch (thrown) {
        error = thrown;
        throw thrown;
      }
    },
  };
}

function uuidText(bytes: Uint8Array): string {
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
