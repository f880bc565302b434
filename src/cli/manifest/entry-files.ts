import { isAbsolute, relative, resolve, sep } from 'node:path';
import { digestFile } from '../../io/bytes/digest-file.js';
import { inputRegistry } from '../../io/bytes/input-registry.js';
import { realPathOf } from '../../io/bytes/real-path.js';
import { readEntryMember, withEntryMember } from '../../io/documents/entry-member.js';
import { isProblemFile } from '../../io/documents/problem-lines.js';
import type { EntryFiles } from '../../records/runs/manifest-entry.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import { recordAside } from '../inputs/read-record.js';
import type { Context, EntryOfRun } from '../shell/context.js';

/** A digest that no file has: what could not be read again counts as another. */
const NO_DIGEST = { bytes: 0, sha256: '' };

/**
 * What a run knows of itself as an entry of a manifest.
 * Given: where it runs, the folder of the manifest; the files of its last run, or null.
 */
export async function entryOfRun(
  context: Pick<Context, 'cwd' | 'stdin'>,
  before: EntryFiles | null,
): Promise<EntryOfRun> {
  const folder = context.cwd;
  const last = new Map<string, string>();
  // None: it was never run.
  for (const { name, sha256 } of before?.outputs ?? []) last.set(await realPathOf(resolve(folder, name)), sha256);
  return {
    async mayReplace(path, next) {
      const now = await digestFile(path, path);
      if (!now.ok) return false;
      // Before anything is written nobody knows yet whether it would be the same.
      return next === null || now.value.sha256 === next.sha256 || now.value.sha256 === last.get(path);
    },
    async mayReplaceMessages(path) {
      const read = await recordAside(path, context);
      if (read === null) return isProblemFile(path);
      return read.run.verdict === 'error' || readEntryMember(read.run.json) !== null;
    },
    async told(record, written, problem) {
      const inputs: FileDigest[] = [];
      // Without a registry nothing was opened.
      for (const { path, digest } of inputRegistry()?.opened() ?? []) {
        const name = nameFrom(folder, path);
        const state = digest === null ? await digestFile(path, name) : null;
        inputs.push({ name, ...(digest ?? (state?.ok === true ? state.value : NO_DIGEST)) });
      }
      const outputs = written.map(({ path, digest: { bytes, sha256 } }) => ({
        name: nameFrom(folder, resolve(folder, path)),
        bytes,
        sha256,
      }));
      // What stopped it left other files of an earlier run where they were; none where there is no earlier run.
      const earlier = problem === null ? [] : (before?.outputs ?? []);
      const left = earlier.filter(({ name }) => !outputs.some((output) => output.name === name));
      return withEntryMember(record, { inputs, outputs: [...outputs, ...left], problem });
    },
  };
}

/** A path as a record of an entry has it: from the folder of the manifest, with slashes. */
function nameFrom(folder: string, path: string): string {
  const name = relative(folder, path);
  return isAbsolute(name) ? name : name.split(sep).join('/');
}
