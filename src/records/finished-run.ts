import type { Answer } from './run-answer.js';

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
  readonly argv: readonly string[];
  readonly inputs: readonly FinishedInput[];
  readonly problems: ReadonlyMap<string, number>;
  readonly answer: Answer;
  readonly verdictCounts: ReadonlyMap<string, number>;
  readonly reasonCounts: ReadonlyMap<string, number>;
  readonly exitCode: number;
  /** The record as it stands. */
  readonly json: Readonly<Record<string, unknown>>;
}
