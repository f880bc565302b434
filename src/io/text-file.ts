import { readFile } from 'node:fs/promises';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { errorProblem } from '../records/problem.js';
import { fileErrorCode, fileErrorWords } from './file-error.js';

/**
 * The whole text of a small settings file, UTF-8, without a byte order mark.
 * Given: its absolute path; its name for people. Problems: file-not-found, file-unreadable.
 */
export async function readTextFile(path: string, name: string): Promise<Outcome<string>> {
  try {
    return success((await readFile(path, 'utf8')).replace(/^\ufeff/u, ''));
  } catch (error) {
    const where = { source: name };
    if (fileErrorCode(error) === 'ENOENT') return failure(errorProblem('file-not-found', { message: 'no such file', where, hint: 'check the path' }));
    return failure(errorProblem('file-unreadable', { message: `cannot be read: ${fileErrorWords(error)}`, where }));
  }
}
