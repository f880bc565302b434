import type { FileDigest } from './provenance.js';
import type { Answer } from './run-answer.js';
import type { RunSummary } from './run-summary.js';

/** An input as a run record tells of it. */
export interface FinishedInput {
  readonly name: string;
  readonly kind: string;
  readonly sha256: string;
  readonly rowsRead: number;
  readonly rowsUsed: number;
  readonly rowsRejected: number;
  /** Null: the whole of it. */
  readonly part: { readonly rowFrom: number; readonly rowTo: number; readonly reachesEnd: boolean } | null;
  /** The member of the record as it stands. */
  readonly json: Readonly<Record<string, unknown>>;
}

/** A run record, read to be put together with others. */
export interface FinishedRun {
  /** Name of its file, for people. */
  readonly source: string;
  readonly toolVersion: string;
  readonly argv: readonly string[];
  /** Settings in force by their dotted keys, values as text. */
  readonly settings: ReadonlyMap<string, string>;
  /** Files that it wrote, with what each was asked for with; none where the record does not say. */
  readonly outputs: readonly (FileDigest & { readonly role: string })[];
  /** Null: the record does not say. */
  readonly summary: RunSummary | null;
  readonly inputs: readonly FinishedInput[];
  readonly problems: ReadonlyMap<string, number>;
  /** `no` where errors stopped the run; `verdict` tells the two apart. */
  readonly answer: Answer;
  readonly verdict: Answer | 'error';
  readonly verdictCounts: ReadonlyMap<string, number>;
  readonly reasonCounts: ReadonlyMap<string, number>;
  readonly exitCode: number;
  /** The record as it stands. */
  readonly json: Readonly<Record<string, unknown>>;
}
