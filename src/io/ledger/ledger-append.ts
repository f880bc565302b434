import { Buffer } from 'node:buffer';
import { readFile, realpath, rename, stat } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import type { LedgerRun } from '../../records/runs/ledger.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { fileErrorCode, writeFailed } from '../bytes/file-error.js';
import { createTempFile } from '../bytes/output/temp-file.js';
import type { TempFile } from '../bytes/output/temp-file.js';
import { unopened } from '../bytes/open-input.js';
import { entryAt } from '../../records/present.js';
import { ledgerLine, readLedgerLine } from './ledger-line.js';
import type { LedgerPlace } from './ledger-line.js';
import { lockFile } from './ledger-lock.js';
import type { LockPatience } from './ledger-lock.js';

/** A line that is written and not yet seen. */
export interface LedgerAppend {
  /** The ledger has the line. */
  readonly commit: () => Promise<Outcome<null>>;
  /** The ledger stays as it was; never fails, and may be called after `commit`. */
  readonly abort: () => Promise<void>;
}

/**
 * Writes a ledger anew with one line more, and keeps other runs from it until the line is committed or given up.
 *
 * Given: path of the ledger, which need not exist; its name for people; the run; how long to wait for another. The caller
 * commits after the run's outputs are in place: all that may fail has been done by then but one rename.
 * Problems: file-locked, file-output-unwritable, file-write-failed, file-unreadable; ledger-damaged where the last line is no
 * whole one, so that nothing can follow it.
 */
export async function prepareLedgerLine(
  path: string,
  name: string,
  run: LedgerRun,
  patience?: LockPatience,
): Promise<Outcome<LedgerAppend>> {
  const target = await realpath(path).catch(() => path);
  const lock = await lockFile(target, name, patience);
  if (!lock.ok) return lock;
  let temp: TempFile | null = null;
  const abort = async (): Promise<void> => {
    await temp?.remove();
    temp = null;
    await lock.value.release();
  };
  const old = await contentOf(target, name);
  const last = old.ok ? lastPlace(old.value.bytes, name) : old;
  if (!old.ok || !last.ok) {
    await abort();
    return old.ok ? (last as Exclude<typeof last, { ok: true }>) : old;
  }
  try {
    temp = await createTempFile(dirname(target), basename(target), old.value.mode);
    await temp.write(old.value.bytes);
    await temp.write(Buffer.from(`${ledgerLine(run, last.value)}\n`, 'utf8'));
    await temp.sync();
    await temp.close();
  } catch (error) {
    await abort();
    return writeFailed(name, error);
  }
  return success({
    abort,
    async commit() {
      try {
        if (temp !== null) await rename(temp.path, target);
        temp = null;
        return success(null);
      } catch (error) {
        return writeFailed(name, error);
      } finally {
        await abort();
      }
    },
  });
}

async function contentOf(path: string, name: string): Promise<Outcome<{ bytes: Buffer; mode: number }>> {
  try {
    return success({ bytes: await readFile(path), mode: (await stat(path)).mode & 0o777 });
  } catch (error) {
    if (fileErrorCode(error) === 'ENOENT') return success({ bytes: Buffer.alloc(0), mode: 0o666 });
    return unopened(name, error);
  }
}

/** Where the last line stands; null where there is none. */
function lastPlace(bytes: Buffer, name: string): Outcome<LedgerPlace | null> {
  if (bytes.length === 0) return success(null);
  const text = bytes.toString('utf8');
  const lines = text.split('\n');
  const line = text.endsWith('\n') ? readLedgerLine(entryAt(lines, lines.length - 2), lines.length - 1) : null;
  if (line !== null) return success({ sequence: line.sequence, sha256: line.statedSha256 });
  return failure(
    errorProblem('ledger-damaged', {
      message: 'its last line is not whole, so that no line can follow it',
      where: { source: name, line: lines.length - (text.endsWith('\n') ? 1 : 0) },
      hint: 'see what verify-job says; bring the file back from a copy, or put it aside and begin another',
    }),
  );
}
