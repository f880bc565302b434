import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import type { Stats } from 'node:fs';
import { open, realpath, stat } from 'node:fs/promises';
import type { FileHandle } from 'node:fs/promises';
import { sep } from 'node:path';
import { failure, success } from '../../records/outcome.js';
import type { Failure, Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { fileErrorCode, fileErrorWords } from './file-error.js';
import { inputRegistry } from './input-registry.js';

/** A file opened for reading, and what it was when it was opened. */
export interface OpenedInput {
  readonly handle: FileHandle;
  readonly stats: Stats;
}

/** All of a file, and the digest of its bytes. */
export interface FileBytes {
  readonly bytes: Buffer;
  readonly sha256: string;
}

/**
 * Opens a file for reading: the only way in, for every command. It is entered into the run's registry of inputs, so
 * that no output overwrites it, and refused where it does not lie below the folder of `--confine`.
 * Given: its absolute path; its name for people; whether it may be a pipe or device (a stream that is read once) or must be a
 * regular file. Problems: file-not-found, file-unreadable, file-confined.
 */
export async function openInput(path: string, name: string, kind: 'stream' | 'regular'): Promise<Outcome<OpenedInput>> {
  const registry = inputRegistry();
  let handle: FileHandle | null = null;
  try {
    const folder = registry?.confine ?? null;
    if (folder !== null && !(await isBelow(path, folder))) return confined(name);
    // Without O_NONBLOCK the opening of a pipe that nobody writes to would wait for ever.
    handle = await open(path, constants.O_RDONLY | (kind === 'regular' ? (constants.O_NONBLOCK ?? 0) : 0));
    const stats = await handle.stat();
    const wrong = stats.isDirectory()
      ? 'is a folder'
      : kind === 'regular' && !stats.isFile()
        ? 'is no regular file'
        : null;
    if (wrong !== null) {
      await handle.close();
      return failure(errorProblem('file-unreadable', { message: wrong, where: { source: name }, hint: 'name a file' }));
    }
    if (folder !== null && !(await isSame(path, stats))) {
      await handle.close();
      return confined(name);
    }
    registry?.add(stats, path);
    // To close a pipe may have to wait for whoever writes to it.
    if (stats.isFile()) registry?.holds(handle);
    return success({ handle, stats });
  } catch (error) {
    await handle?.close().catch(() => undefined);
    return unopened(name, error);
  }
}

/** The problem of a file that could not be opened or read. */
export function unopened(name: string, error: unknown): Failure {
  const where = { source: name };
  const reason = fileErrorCode(error);
  if (reason === 'ENOENT' || reason === 'ENOTDIR')
    return failure(errorProblem('file-not-found', { message: 'no such file', where, hint: 'check the path' }));
  const message = `cannot be read: ${fileErrorWords(error)}`;
  return failure(errorProblem('file-unreadable', { message, where }));
}

/**
 * All of a regular file, opened once; its size is looked at before memory is taken.
 * Given: its absolute path; its name for people; the most bytes; what it is, for the message. Problems: those of
 * `openInput`; file-too-large; file-changed where it grew or shrank meanwhile.
 */
export async function readWholeFile(
  path: string,
  name: string,
  maxBytes: number,
  what: string,
): Promise<Outcome<FileBytes>> {
  const opened = await openInput(path, name, 'regular');
  if (!opened.ok) return opened;
  const { handle, stats } = opened.value;
  const where = { source: name };
  try {
    if (stats.size > maxBytes) {
      return failure(
        errorProblem('file-too-large', {
          message: `${what} of ${String(stats.size)} bytes is larger than ${String(maxBytes)}`,
          where,
          hint: 'check that it is the file you mean',
        }),
      );
    }
    // One byte more, to notice that it grew.
    const buffer = Buffer.allocUnsafeSlow(stats.size + 1);
    let length = 0;
    for (;;) {
      const { bytesRead } = await handle.read(buffer, length, Math.min(buffer.length - length, 1 << 26), null);
      length += bytesRead;
      if (bytesRead === 0 || length === buffer.length) break;
    }
    if (length !== stats.size)
      return failure(errorProblem('file-changed', { message: 'changed while it was read', where }));
    const bytes = buffer.subarray(0, length);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    inputRegistry()?.digested(path, { bytes: length, sha256 });
    return success({ bytes, sha256 });
  } catch (error) {
    return unopened(name, error);
  } finally {
    await handle.close();
  }
}

async function isBelow(path: string, folder: string): Promise<boolean> {
  const real = await realpath(path);
  return real === folder || real.startsWith(folder.endsWith(sep) ? folder : folder + sep);
}

/** Whether the file that was opened is still the one whose real path was looked at. */
async function isSame(path: string, opened: Stats): Promise<boolean> {
  const now = await stat(await realpath(path));
  return now.dev === opened.dev && now.ino === opened.ino;
}

function confined(name: string): Failure {
  return failure(
    errorProblem('file-confined', {
      message: 'lies outside the folder that files may be read from',
      where: { source: name },
      hint: 'move it below the folder of --confine, or name another folder',
    }),
  );
}
