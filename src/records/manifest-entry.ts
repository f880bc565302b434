import type { Problem } from './problem.js';

/** A file of an entry as it was. */
export interface EntryFile {
  /** From the folder of the manifest, with slashes. */
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

/** What the record of an entry of a manifest says beside that of a run by itself. */
export interface EntryFiles {
  /** Every file that it read. */
  readonly inputs: readonly EntryFile[];
  /** Every file of results that it wrote; of a run that errors stopped, those of an earlier one that still stand. */
  readonly outputs: readonly EntryFile[];
  /** The first error; null: it ended with an answer. */
  readonly problem: Problem | null;
}
