import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import type { Stats } from 'node:fs';
import type { FileHandle } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { InternalError } from '../../records/internal-error.js';
import { failure, success } from '../../records/outcome.js';
import type { Failure, Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import { digestTold, fileOf } from './file-facts.js';
import type { FileVersion } from './file-facts.js';
import { openInput, unopened } from './open-input.js';
import { inputPieceSize } from '../host/way.js';
import { isParquetName } from '../parquet/parquet-name.js';
import { byteOrderMark } from '../text/text-encoding.js';
import type { TextEncoding } from '../text/text-encoding.js';
import { createTextDecoder, UNCHECKED } from '../text/text-decoder.js';
import type { ChunkDecoder } from '../text/text-decoder.js';

/** Where inputs come from; injected so that nothing here touches the process. */
export interface SourceOptions {
  readonly cwd: string;
  readonly stdin: AsyncIterable<Uint8Array>;
  /** As named by `--encoding`; null: the byte order mark decides, else UTF-8. */
  readonly encoding?: TextEncoding | null;
  /** The file may hold bytes of any kind between its text: where nothing names an encoding they are passed on unchecked. */
  readonly anyBytes?: boolean;
  /** The file is no text at all: its bytes are passed on as they are, and it has no encoding. */
  readonly isBinary?: boolean;
  /** Bytes asked for at a time. */
  readonly chunkBytes?: number;
}

/** An input being read once, from its first byte to its last. */
export interface Source {
  /** As typed by the user; `stdin` for `-`. */
  readonly name: string;
  /** Absolute path, or null for standard input. */
  readonly path: string | null;
  /** Bytes in the file when it was opened; null for what is no file. */
  readonly size: number | null;
  /** What tells whether the file is still the one that was opened; null for what is no file. */
  readonly version: FileVersion | null;
  /** Its text is CSV as it is read without any option, whatever the file is. */
  readonly isTable?: boolean;
  /** UTF-8 bytes without a byte order mark, or the file's own with `anyBytes`. A failure is the last item. May be read once. */
  readonly chunks: () => AsyncGenerator<Outcome<Buffer>>;
  /** Name, size and SHA-256 of the file's own bytes; only after the last chunk. */
  readonly digest: () => FileDigest;
  /** The encoding that was read; null before the first chunk, and of what is no text. */
  readonly encoding: () => TextEncoding | null;
  /** Releases the file when it was not read to its end. */
  readonly close: () => Promise<void>;
}

/** Small, so that bytes are let go before memory that is cleared often takes them for what lives long: they would stay until all of it is gone through (measured). */
const DEFAULT_CHUNK_BYTES = inputPieceSize(1 << 16, 1021);

/**
 * Opens a file, or standard input for `-`, as a stream of checked UTF-8 bytes: of a Parquet file, by its ending, the text of its rows.
 * Returned: a source, or file-not-found, file-unreadable. While it is read: file-encoding for bytes that do
 * not belong to the encoding, file-changed when the file grew, shrank or was touched meanwhile.
 * The inverse is `openSink`.
 */
export async function openSource(pathOrDash: string, options: SourceOptions): Promise<Outcome<Source>> {
  if (pathOrDash === '-') return success(createSource('stdin', null, null, null, options));
  const path = resolve(options.cwd, pathOrDash);
  const isParquet = isParquetName(path) && options.isBinary !== true;
  const opened = await openInput(path, pathOrDash, isParquet ? 'regular' : 'stream');
  if (!opened.ok) return opened;
  if (isParquet) {
    const { parquetSource } = await import('../parquet/parquet-source.js');
    return success(parquetSource(pathOrDash, path, opened.value));
  }
  return success(createSource(pathOrDash, path, opened.value.handle, opened.value.stats, options));
}

function createSource(
  name: string,
  path: string | null,
  handle: FileHandle | null,
  before: Stats | null,
  options: SourceOptions,
): Source {
  const hash = createHash('sha256');
  let bytesRead = 0;
  let sha256: string | null = null;
  let encoding: TextEncoding | null = null;
  let isOpen = handle !== null;

  async function close(): Promise<void> {
    if (!isOpen) return;
    isOpen = false;
    await handle?.close();
  }

  async function* rawChunks(): AsyncGenerator<Buffer> {
    const size = options.chunkBytes ?? DEFAULT_CHUNK_BYTES;
    if (handle === null) {
      for await (const chunk of options.stdin) yield Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength);
      return;
    }
    // The next piece is read while the last one is worked on.
    const read = (): Promise<{ readonly bytesRead: number; readonly buffer: Buffer }> =>
      handle.read(Buffer.allocUnsafeSlow(size), 0, size, null);
    let next = read();
    // One that fails while nobody waits for it yet is met when its turn comes.
    next.catch(() => undefined);
    try {
      for (;;) {
        const { bytesRead: count, buffer } = await next;
        if (count === 0) return;
        next = read();
        next.catch(() => undefined);
        yield buffer.subarray(0, count);
      }
    } finally {
      await next.catch(() => undefined);
    }
  }

  /** The same chunks, counted and hashed, the first of at least three bytes unless the file is shorter. */
  async function* countedChunks(): AsyncGenerator<Buffer> {
    let head: Buffer | null = Buffer.alloc(0);
    for await (const chunk of rawChunks()) {
      hash.update(chunk);
      bytesRead += chunk.length;
      if (head === null) {
        yield chunk;
        continue;
      }
      const joined: Buffer = head.length === 0 ? chunk : Buffer.concat([head, chunk]);
      head = joined.length < 3 ? joined : null;
      if (head === null) yield joined;
    }
    if (head !== null && head.length > 0) yield head;
  }

  async function* chunks(): AsyncGenerator<Outcome<Buffer>> {
    try {
      let decoder: ChunkDecoder | null = null;
      let markLength = 0;
      let isUnchecked = false;
      for await (const chunk of countedChunks()) {
        let body = chunk;
        if (decoder === null) {
          const mark = options.isBinary === true ? null : byteOrderMark(chunk);
          const asked = options.encoding ?? null;
          if (mark !== null && asked !== null && asked !== mark.encoding) {
            yield contradiction(name, mark.encoding, asked);
            return;
          }
          encoding = options.isBinary === true ? null : (asked ?? mark?.encoding ?? 'utf-8');
          isUnchecked = encoding === null || (options.anyBytes === true && asked === null && encoding === 'utf-8');
          decoder = isUnchecked || encoding === null ? UNCHECKED : createTextDecoder(encoding);
          markLength = mark?.length ?? 0;
          body = chunk.subarray(markLength);
        }
        const decoded = decoder.push(body);
        if (!decoded.ok) {
          yield badBytes(name, encoding ?? 'utf-8', markLength + decoded.badOffset);
          return;
        }
        if (!isUnchecked && decoded.bytes.includes(0)) {
          yield nulByte(name);
          return;
        }
        if (decoded.bytes.length > 0) yield success(decoded.bytes);
      }
      const rest = decoder?.end();
      if (rest?.ok === false) {
        yield badBytes(name, encoding ?? 'utf-8', markLength + rest.badOffset);
        return;
      }
      if (options.isBinary !== true) encoding ??= options.encoding ?? 'utf-8';
      sha256 = digestTold(path, bytesRead, hash.digest('hex'));
      if (await hasChanged()) {
        yield failure(errorProblem('file-changed', { message: 'changed while it was read', where: { source: name } }));
      }
    } catch (error) {
      yield unopened(name, error);
    } finally {
      await close();
    }
  }

  async function hasChanged(): Promise<boolean> {
    if (handle === null || before?.isFile() !== true) return false;
    const after = await handle.stat();
    return after.size !== before.size || after.mtimeMs !== before.mtimeMs || bytesRead !== before.size;
  }

  return {
    name,
    path,
    ...fileOf(before),
    chunks,
    close,
    encoding: () => encoding,
    digest() {
      if (sha256 === null) throw new InternalError(`digest of ${name} asked for before its end`);
      return { name: basename(name), bytes: bytesRead, sha256 };
    },
  };
}

function badBytes(source: string, encoding: TextEncoding, offset: number): Failure {
  const hint =
    encoding === 'utf-8'
      ? 'if the file is older text, try --encoding windows-1252; if it came from a console redirection, --encoding utf-16le'
      : 'name the encoding of the file with --encoding';
  const message = `the byte at offset ${String(offset)} does not belong to ${encoding}`;
  return failure(errorProblem('file-encoding', { message, where: { source }, hint }));
}

function contradiction(source: string, marked: TextEncoding, asked: TextEncoding): Failure {
  const message = `starts with the byte order mark of ${marked}, and --encoding says ${asked}`;
  return failure(errorProblem('file-encoding', { message, where: { source }, hint: 'leave --encoding out' }));
}

function nulByte(source: string): Failure {
  const message = 'holds a zero byte, so it is not plain text in this encoding';
  const hint = 'if it is UTF-16 without a byte order mark, give --encoding utf-16le';
  return failure(errorProblem('file-encoding', { message, where: { source }, hint }));
}
