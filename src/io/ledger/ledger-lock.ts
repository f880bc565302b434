import { open, stat, unlink, utimes } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { fileErrorCode, fileErrorWords } from '../bytes/file-error.js';

/** A file that only one run at a time may change. */
export interface FileLock {
  /** Never fails. */
  readonly release: () => Promise<void>;
}

/** How a lock is waited for; in milliseconds. */
export interface LockPatience {
  /** The longest that a run waits for another. */
  readonly waitMs: number;
  /** A lock that was not refreshed for so long was left by a run that died. */
  readonly staleMs: number;
}

const PATIENCE: LockPatience = { waitMs: 60_000, staleMs: 20_000 };
const LOOK_EVERY_MS = 50;

/**
 * Takes the lock of a file: a file beside it that is made only where there is none, refreshed while it is held.
 * Given: path of the file; its name for people; how long to wait. Problems: file-locked where another run holds it all the
 * time; file-output-unwritable where none can be made.
 */
export async function lockFile(
  path: string,
  name: string,
  patience: LockPatience = PATIENCE,
): Promise<Outcome<FileLock>> {
  const lock = `${path}.lock`;
  let waited = 0;
  for (;;) {
    try {
      const handle = await open(lock, 'wx');
      await handle.close();
      return success(heldLock(lock, patience.staleMs / 4));
    } catch (error) {
      if (fileErrorCode(error) !== 'EEXIST')
        return failure(
          errorProblem('file-output-unwritable', {
            message: `cannot be locked: ${fileErrorWords(error)}`,
            where: { source: name },
            hint: 'check the folder of the job file and its permissions',
          }),
        );
    }
    const held = await stat(lock).catch(() => null);
    if (held !== null && Date.now() - held.mtimeMs > patience.staleMs) {
      await unlink(lock).catch(() => undefined);
      continue;
    }
    if (waited >= patience.waitMs)
      return failure(
        errorProblem('file-locked', {
          message: `another run has been writing it for ${String(Math.round(patience.waitMs / 1000))} s`,
          where: { source: name },
          hint: 'run again when it has ended',
        }),
      );
    await wait(LOOK_EVERY_MS);
    waited += LOOK_EVERY_MS;
  }
}

function heldLock(lock: string, refreshMs: number): FileLock {
  const beat = setInterval(() => {
    const now = new Date();
    utimes(lock, now, now).catch(() => undefined);
  }, refreshMs);
  beat.unref();
  return {
    async release() {
      clearInterval(beat);
      await unlink(lock).catch(() => undefined);
    },
  };
}
