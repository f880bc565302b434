import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { unopened } from './open-input.js';

/** Size and SHA-256 of a file. */
export interface FileState {
  readonly bytes: number;
  readonly sha256: string;
}

/**
 * Size and SHA-256 of a file as it is now, read piece by piece. It is looked at, not used: it does not become an input.
 * Given: its absolute path; its name for people. Problems: file-not-found, file-unreadable.
 */
export async function digestFile(path: string, name: string): Promise<Outcome<FileState>> {
  const hash = createHash('sha256');
  let bytes = 0;
  try {
    for await (const chunk of createReadStream(path) as AsyncIterable<Uint8Array>) {
      hash.update(chunk);
      bytes += chunk.length;
    }
    return success({ bytes, sha256: hash.digest('hex') });
  } catch (error) {
    return unopened(name, error);
  }
}
