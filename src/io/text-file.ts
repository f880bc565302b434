import { Buffer } from 'node:buffer';
import { open } from 'node:fs/promises';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { errorProblem } from '../records/problem.js';
import { fileErrorCode, fileErrorWords } from './file-error.js';

/** No settings file is larger; a device or a log named by mistake would never end. */
const MAX_BYTES = 4 << 20;

/**
 * The whole text of a small settings file, UTF-8, without a byte order mark.
 * Given: its absolute path; its name for people. Problems: file-not-found, file-unreadable; file-too-large; file-encoding
 * for bytes that are not UTF-8.
 */
export async function readTextFile(path: string, name: string): Promise<Outcome<string>> {
  const where = { source: name };
  try {
    const bytes = await boundedBytes(path);
    if (bytes === null) return failure(errorProblem('file-too-large', { message: 'is larger than 4 MiB, too large for settings', where, hint: 'check that it is the file you mean' }));
    return success(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch (error) {
    if (error instanceof TypeError) return failure(errorProblem('file-encoding', { message: 'is not UTF-8 text', where, hint: 'save the file as UTF-8' }));
    if (fileErrorCode(error) === 'ENOENT') return failure(errorProblem('file-not-found', { message: 'no such file', where, hint: 'check the path' }));
    return failure(errorProblem('file-unreadable', { message: `cannot be read: ${fileErrorWords(error)}`, where }));
  }
}

/** Everything in a file; null where there is more than a settings file holds. */
async function boundedBytes(path: string): Promise<Buffer | null> {
  const handle = await open(path, 'r');
  try {
    const buffer = Buffer.allocUnsafe(MAX_BYTES + 1);
    let length = 0;
    for (;;) {
      const { bytesRead } = await handle.read(buffer, length, buffer.length - length, null);
      if (bytesRead === 0) return buffer.subarray(0, length);
      length += bytesRead;
      if (length > MAX_BYTES) return null;
    }
  } finally {
    await handle.close();
  }
}
