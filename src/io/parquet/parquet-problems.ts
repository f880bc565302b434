import { failure } from '../../records/outcome.js';
import type { Failure } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { StoredColumn } from './parquet-cells.js';
import { codecsRead } from './parquet-unpack.js';

/** parquet-invalid, in the words of what read it. */
export function broken(source: string, error: unknown): Failure {
  return failure(
    errorProblem('parquet-invalid', {
      message: `is no whole Parquet file: ${error instanceof Error ? error.message : String(error)}`,
      where: { source },
      hint: 'write it once more, or copy it again',
    }),
  );
}

/** parquet-column. */
export function unknownType(
  source: string,
  { name, type, converted_type, logical_type, num_children }: StoredColumn,
): Failure {
  const said =
    logical_type?.type ?? converted_type ?? type ?? (num_children === undefined ? 'none' : 'columns of its own');
  return failure(
    errorProblem('parquet-column', {
      message: `the column ${name} is of a type that no table of text has: ${said}`,
      where: { source, column: name },
      received: said,
      hint: 'write it as text or as numbers, a column for each, or leave it out',
    }),
  );
}

/** parquet-codec. */
export function unknownCodec(source: string, codec: string): Failure {
  return failure(
    errorProblem('parquet-codec', {
      message: `is packed with ${codec}, which is not read here`,
      where: { source },
      received: codec,
      expected: codecsRead(),
      hint: codec === 'ZSTD' ? 'use Node.js 22.15 or later, or write it with SNAPPY' : 'write it with SNAPPY',
    }),
  );
}

/** file-too-large: of a row group. */
export function groupTooLarge(source: string, bytes: number, rows: number): Failure {
  return failure(
    errorProblem('file-too-large', {
      message: `a row group of ${String(rows)} rows would take about ${String(Math.ceil(bytes / 1_048_576))} MiB unpacked, more than there is room for`,
      where: { source },
      hint: 'write it with smaller row groups',
    }),
  );
}

/** value-out-of-range or file-encoding: of a value that is no cell, and where it stands. */
export function badValue(source: string, column: string, row: number, value: unknown): Failure {
  const isText = typeof value === 'symbol';
  const said = isText ? 'bytes that are no UTF-8 text' : `${String(value)}, which no cell can hold`;
  return failure(
    errorProblem(isText ? 'file-encoding' : 'value-out-of-range', {
      message: `row ${String(row + 1)} of ${column} holds ${said}`,
      where: { source, record: row + 1, column },
      hint: 'mend it where the file was made, or write an empty value',
    }),
  );
}
