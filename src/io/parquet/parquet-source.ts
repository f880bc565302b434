import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import type { Stats } from 'node:fs';
import type { FileHandle } from 'node:fs/promises';
import { basename } from 'node:path';
import { InternalError } from '../../records/internal-error.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { digestTold, fileOf } from '../bytes/file-facts.js';
import type { Source } from '../bytes/source.js';
import { unopened } from '../bytes/open-input.js';
import type { OpenedInput } from '../bytes/open-input.js';
import { createCsvWriter } from '../csv/csv-write.js';
import { broken } from './parquet-problems.js';
import { openParquetTable } from './parquet-read.js';

/**
 * A Parquet file as the CSV text of its rows: what reads tables reads it as it reads CSV, and a row is told by the line that it has there,
 * the first after the names being line 2. The digest is of the file.
 *
 * Problems, with the text: those of `openParquetTable` and of its rows; parquet-invalid where the rows are not those that their writer
 * took the digest of; file-changed.
 */
export function parquetSource(name: string, path: string, { handle, stats }: OpenedInput): Source {
  let sha256: string | null = null;
  let isOpen = true;
  async function close(): Promise<void> {
    if (!isOpen) return;
    isOpen = false;
    await handle.close();
  }

  async function* chunks(): AsyncGenerator<Outcome<Buffer>> {
    try {
      for await (const piece of textOf(name, handle, stats)) {
        yield piece;
        if (!piece.ok) return;
      }
      sha256 = digestTold(path, stats.size, await digestOf(handle, Infinity));
      const after = await handle.stat();
      if (after.size !== stats.size || after.mtimeMs !== stats.mtimeMs)
        yield failure(errorProblem('file-changed', { message: 'changed while it was read', where: { source: name } }));
    } catch (error) {
      yield unopened(name, error);
    } finally {
      await close();
    }
  }

  return {
    name,
    path,
    ...fileOf(stats),
    isTable: true,
    chunks,
    close,
    encoding: () => null,
    digest() {
      if (sha256 === null) throw new InternalError(`digest of ${name} asked for before its end`);
      return { name: basename(name), bytes: stats.size, sha256 };
    },
  };
}

/** The rows of a file as CSV, the names first. */
async function* textOf(name: string, handle: FileHandle, { size }: Stats): AsyncGenerator<Outcome<Buffer>> {
  const opened = await openParquetTable(name, {
    byteLength: size,
    slice: (start, end = size) => part(handle, start, end),
  });
  if (!opened.ok) {
    yield opened;
    return;
  }
  const { names, rows, rowsSha256, body } = opened.value;
  // Before they are unpacked: what is damaged may unpack to anything.
  if (body !== null && (await digestOf(handle, body.length)) !== body.sha256) {
    yield broken(name, new Error('its bytes are not those that were written'));
    return;
  }
  const writer = createCsvWriter(names);
  const hash = createHash('sha256');
  const text = (content: string): Outcome<Buffer> => {
    const bytes = Buffer.from(content, 'utf8');
    hash.update(bytes);
    return success(bytes);
  };
  yield text(writer.header());
  for await (const piece of rows()) {
    yield piece.ok ? text(writer.rows(piece.value)) : piece;
    if (!piece.ok) return;
  }
  if (rowsSha256 !== null && rowsSha256 !== hash.digest('hex'))
    yield broken(name, new Error('its rows are not those that were written'));
}

/** Bytes of a file from one offset up to another; fewer at its end. */
async function part(handle: FileHandle, start: number, end: number): Promise<ArrayBuffer> {
  const buffer = Buffer.alloc(Math.max(0, end - start));
  let length = 0;
  while (length < buffer.length) {
    const { bytesRead } = await handle.read(buffer, length, buffer.length - length, start + length);
    if (bytesRead === 0) break;
    length += bytesRead;
  }
  return buffer.buffer.slice(buffer.byteOffset, buffer.byteOffset + length);
}

const WINDOW_BYTES = 1 << 18;

/** SHA-256 of the first bytes of a file. */
async function digestOf(handle: FileHandle, length: number): Promise<string> {
  const hash = createHash('sha256');
  const window = Buffer.allocUnsafeSlow(WINDOW_BYTES);
  for (let at = 0; ;) {
    const { bytesRead } = await handle.read(window, 0, Math.min(window.length, Math.max(0, length - at)), at);
    if (bytesRead === 0) return hash.digest('hex');
    hash.update(window.subarray(0, bytesRead));
    at += bytesRead;
  }
}
