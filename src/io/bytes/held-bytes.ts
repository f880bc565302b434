import { Buffer } from 'node:buffer';
import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { boundNursery } from '../host/nursery.js';
import { pieceSize, WAY } from '../host/way.js';
import { memoryRoomBytes } from './memory-room.js';
import type { Source } from './source.js';

/** The bytes of a document that was read to its end, to be asked for again by their place. */
export interface HeldBytes {
  readonly length: number;
  /** Of them, those that memory holds. */
  readonly memoryBytes: number;
  /** Those from one offset up to another, until the next are asked for. Throws `FileChanged` where the file is no longer what was read. */
  readonly slice: (start: number, end: number) => Buffer;
}

/** A file was changed or taken away between its two readings. */
export class FileChanged extends Error {
  constructor() {
    super('changed while it was read');
  }
}

/** Largest document that memory holds, where there is room for it. */
const MAX_DOCUMENT_BYTES = 500 * 1024 * 1024;

/** A document of points takes about three times its bytes while it is read; twice that leaves room for others. */
const MEMORY_A_BYTE = 6;
/** A smaller document is not read from its file twice. */
const KEPT_BYTES: number = WAY === 'general' ? Infinity : pieceSize(4 << 20, 0);
const WINDOW_BYTES = pieceSize(1 << 18, 257);

/** The most that is read in one piece. */
export function largestDocument(): number {
  return Math.min(MAX_DOCUMENT_BYTES, Math.floor(memoryRoomBytes() / MEMORY_A_BYTE));
}

export function tooLarge(source: string, mostBytes: number): Problem {
  const message = `is larger than ${String(Math.floor(mostBytes / 1_048_576))} MiB, the most that is read in one piece here`;
  const hint =
    'split the document, write it as CSV, or raise the bound of memory with NODE_OPTIONS=--max-old-space-size=MIB';
  return errorProblem('file-too-large', { message, where: { source }, hint });
}

/** Bytes in memory. */
export function bytesInMemory(bytes: Buffer): HeldBytes {
  return {
    length: bytes.length,
    memoryBytes: bytes.length,
    slice: (start, end) => bytes.subarray(start, end),
  };
}

/**
 * Reads an input to its end, each piece shown once, and keeps hold of it: a file of UTF-8 where it lies, from which any part is read
 * again; all else, and what is small, in memory.
 * Problems: those of the source; file-too-large for what memory would have to hold.
 */
export async function holdSource(source: Source, show: (piece: Buffer) => void): Promise<Outcome<HeldBytes>> {
  let kept: Buffer[] | null = [];
  let length = 0;
  const most = largestDocument();
  for await (const chunk of source.chunks()) {
    if (!chunk.ok) return chunk;
    boundNursery();
    show(chunk.value);
    length += chunk.value.length;
    if (kept !== null && length > KEPT_BYTES && isReadAgain(source)) kept = null;
    if (kept === null) continue;
    if (length > most) return failure(tooLarge(source.name, most));
    kept.push(chunk.value);
  }
  return success(kept === null ? bytesOfFile(source, length) : bytesInMemory(Buffer.concat(kept)));
}

/** Whether the bytes of a source are those of a file that can be opened again. */
function isReadAgain({ path, version, encoding }: Source): boolean {
  return path !== null && version !== null && encoding() === 'utf-8';
}

/** The last `length` bytes of a file: a byte order mark stands before them. */
function bytesOfFile({ path, size, version }: Source, length: number): HeldBytes {
  const mark = (size as number) - length;
  let window: Buffer = Buffer.alloc(0);
  let windowAt = 0;

  function read(start: number, bytes: number): Buffer {
    // Without O_NONBLOCK a pipe that was put in its place would wait for ever.
    const file = openSync(path as string, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    try {
      const { size: now, ino, mtimeMs } = fstatSync(file);
      const buffer = Buffer.allocUnsafeSlow(bytes);
      let count = 0;
      while (count < bytes) {
        const got = readSync(file, buffer, count, bytes - count, mark + start + count);
        if (got === 0) break;
        count += got;
      }
      if (now !== size || ino !== version?.inode || mtimeMs !== version.modifiedMs || count < bytes)
        throw new FileChanged();
      return buffer;
    } finally {
      closeSync(file);
    }
  }

  return {
    length,
    memoryBytes: 0,
    slice(start, end) {
      if (start < windowAt || end > windowAt + window.length) {
        try {
          window = read(start, Math.min(length - start, Math.max(end - start, WINDOW_BYTES)));
        } catch {
          // Gone, or no longer open to us: what was read once is not there any more.
          throw new FileChanged();
        }
        windowAt = start;
      }
      return window.subarray(start - windowAt, end - windowAt);
    },
  };
}

/** The line of an offset, from 1. */
export function lineOfByte(held: HeldBytes, offset: number): number {
  let line = 1;
  for (let from = 0; from < offset; from += WINDOW_BYTES) {
    const piece = held.slice(from, Math.min(offset, from + WINDOW_BYTES));
    for (let at = piece.indexOf(0x0a); at >= 0; at = piece.indexOf(0x0a, at + 1)) line += 1;
  }
  return line;
}
