import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { readWholeFile } from '../bytes/open-input.js';

/** No settings file is larger; a device or a log named by mistake would never end. */
const MAX_BYTES = 4 << 20;

/** A settings file: its text, and what the record says of its bytes. */
export interface TextFile {
  /** Without a byte order mark. */
  readonly text: string;
  readonly bytes: number;
  /** Of the bytes of the file, a byte order mark included. */
  readonly sha256: string;
}

/**
 * The whole text of a small settings file, UTF-8.
 * Given: its absolute path; its name for people. Problems: those of `readWholeFile`; file-encoding for bytes that are
 * not UTF-8.
 */
export async function readTextFile(path: string, name: string): Promise<Outcome<TextFile>> {
  const read = await readWholeFile(path, name, MAX_BYTES, 'a settings file');
  if (!read.ok) return read;
  const { bytes, sha256 } = read.value;
  try {
    return success({ text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), bytes: bytes.length, sha256 });
  } catch {
    return failure(
      errorProblem('file-encoding', {
        message: 'is not UTF-8 text',
        where: { source: name },
        hint: 'save the file as UTF-8',
      }),
    );
  }
}
