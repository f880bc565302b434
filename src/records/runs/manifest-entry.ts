import type { Problem } from '../problem.js';
import type { FileDigest } from './provenance.js';

/** What the record of an entry of a manifest says beside that of a run by itself. Names of files start from the folder of the manifest, with slashes. */
export interface EntryFiles {
  /** Every file that it read. */
  readonly inputs: readonly FileDigest[];
  /** Every file of results that it wrote; of a run that errors stopped, those of an earlier one that still stand. */
  readonly outputs: readonly FileDigest[];
  /** The first error; null: it ended with an answer. */
  readonly problem: Problem | null;
}
