import { failure } from '../../records/outcome.js';
import type { Failure } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

/** The operating system's short code of a failed file operation, such as `ENOSPC`; `unknown` for anything else. */
export function fileErrorCode(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
}

/** The same in plain words, for messages. */
export function fileErrorWords(error: unknown): string {
  const code = fileErrorCode(error);
  switch (code) {
    case 'ENOENT':
    case 'ENOTDIR':
      return 'the folder does not exist';
    case 'EACCES':
    case 'EPERM':
      return 'permission is refused';
    case 'ERR_ACCESS_DENIED':
      return 'Node was started with --permission and not told to allow it';
    case 'EROFS':
      return 'the disk is read-only';
    case 'ENOSPC':
    case 'EDQUOT':
      return 'no space is left';
    case 'EISDIR':
      return 'it is a folder';
    default:
      return code;
  }
}

/** file-write-failed, in plain words. */
export function writeFailed(source: string, error: unknown): Failure {
  const message = `could not be written: ${fileErrorWords(error)}`;
  return failure(
    errorProblem('file-write-failed', {
      message,
      where: { source },
      hint: 'nothing was left behind; run again when there is room',
    }),
  );
}
