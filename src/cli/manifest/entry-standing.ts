import { resolve } from 'node:path';
import { digestFile } from '../../io/bytes/digest-file.js';
import { readEntryMember } from '../../io/documents/entry-member.js';
import type { FinishedRun } from '../../records/runs/finished-run.js';
import type { EntryFiles } from '../../records/runs/manifest-entry.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import { VERSION } from '../../records/runs/version.js';
import { judgeEntry } from '../../tasks/job/manifest/judge-entry.js';
import type { EntryJudgement } from '../../tasks/job/manifest/judge-entry.js';
import { recordAside } from '../inputs/read-record.js';
import type { Context } from '../shell/context.js';
import type { ManifestEntry } from './load-manifest.js';

/** How an entry stands, with the record that says so. */
export interface EntryStanding extends EntryJudgement {
  /** Null: there is none that can be read. */
  readonly run: FinishedRun | null;
  /** Of the record. */
  readonly digest: FileDigest | null;
  /** Null: the record is of no entry. */
  readonly files: EntryFiles | null;
}

/** Looks at the record of an entry and at every file that it names. Nothing of them becomes an input. */
export async function entryStanding(
  entry: ManifestEntry,
  folder: string,
  { stdin }: Pick<Context, 'stdin'>,
): Promise<EntryStanding> {
  const record = await recordAside(entry.record, { cwd: folder, stdin });
  const run = record?.run ?? null;
  const files = run === null ? null : readEntryMember(run.json);
  const now = new Map<string, string | null>();
  // A run that failed is not held against its files: it is run again.
  const named = files?.problem === null ? [...files.inputs, ...files.outputs] : [];
  for (const { name } of named) {
    const state = await digestFile(resolve(folder, name), name);
    now.set(name, state.ok ? state.value.sha256 : null);
  }
  return {
    run,
    digest: record?.digest ?? null,
    files,
    ...judgeEntry(run, files, { toolVersion: VERSION, words: entry.words }, now),
  };
}
