import { dirname, join, posix, resolve, sep } from 'node:path';
import { digestFile } from '../../io/bytes/digest-file.js';
import type { FileState } from '../../io/bytes/digest-file.js';
import { LEDGER_NAME } from '../../io/ledger/ledger-line.js';
import { readLedger } from '../../io/ledger/ledger-read.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { LedgerLine } from '../../records/runs/ledger.js';
import { judgeFiles, standingFiles } from '../../tasks/job/ledger/judge-files.js';
import type { StandingFile } from '../../tasks/job/ledger/judge-files.js';
import { judgeLines } from '../../tasks/job/ledger/judge-lines.js';
import type { LedgerChange } from '../../tasks/job/ledger/ledger-change.js';

/** A job beside its ledger. */
export interface VerifiedJob {
  /** The folder of the job file, absolute. */
  readonly folder: string;
  /** Name of the ledger, for people. */
  readonly ledger: string;
  readonly ledgerBytes: Uint8Array;
  /** The job file as it is now. */
  readonly own: FileState;
  /** The lines that can be read. */
  readonly lines: readonly LedgerLine[];
  /** Of all lines, also those that cannot be read. */
  readonly lineCount: number;
  readonly standing: readonly StandingFile[];
  /** What is not as the ledger says: lines first, then files. */
  readonly changes: readonly LedgerChange[];
}

/**
 * Looks at every file that the ledger of a job speaks of, and at the ledger itself. Nothing is run again.
 *
 * Given: the job file as typed, and the folder that it starts from, absent: the working folder; the digest of a line that must be
 * there, or null.
 * Problems: file-not-found where the job file or its ledger is not there; file-unreadable, for the ledger or a file it names.
 *
 * @example
 * // The job of the example has not been run yet.
 * const verified = await verifyJob('../quillback-pan-job/job.toml');
 * verified.problems[0].message; // 'the job has no ledger'
 */
export async function verifyJob(
  job: string,
  cwd: string = '.',
  head: string | null = null,
): Promise<Outcome<VerifiedJob>> {
  const path = resolve(cwd, job);
  const folder = dirname(path);
  const own = await digestFile(path, job);
  if (!own.ok) return own;
  const ledger = posix.join(posix.dirname(job.split(sep).join(posix.sep)), LEDGER_NAME);
  const read = await readLedger(join(folder, LEDGER_NAME), ledger);
  if (!read.ok)
    return failureOf(
      read.problems.map((problem) =>
        problem.code === 'file-not-found'
          ? { ...problem, message: 'the job has no ledger', hint: 'it begins with the first run that is given --job' }
          : problem,
      ),
    );
  const lines = read.value.lines.filter((line) => line !== null);
  const standing = standingFiles(lines);
  const now = new Map<string, string | null>();
  for (const { name } of standing) {
    if (now.has(name)) continue;
    const state = await digestFile(resolve(folder, name), name);
    if (!state.ok && state.problems[0]?.code !== 'file-not-found') return state;
    now.set(name, state.ok ? state.value.sha256 : null);
  }
  const changes = [...judgeLines(read.value.lines, head), ...judgeFiles(standing, now)];
  return success({
    folder,
    ledger,
    own: own.value,
    lines,
    lineCount: read.value.lines.length,
    ledgerBytes: read.value.bytes,
    standing,
    changes,
  });
}
