import type { Answer } from './run-answer.js';

/** A file that a run read or wrote, as its job's ledger tells of it. */
export interface LedgerFile {
  /** Its path from the folder of the job file, with slashes. */
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}

/** What an output of a run is: the main data (-o), other data, the page, the record, the problems. */
export type LedgerRole = 'data' | 'side' | 'page' | 'record' | 'problems';

export interface LedgerOutput extends LedgerFile {
  readonly role: LedgerRole;
}

/** What a run tells its job's ledger. */
export interface LedgerRun {
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly timeMs: number;
  readonly toolVersion: string;
  /** The job file, by its name in its folder. */
  readonly job: string;
  readonly command: string;
  readonly argv: readonly string[];
  readonly exitCode: number;
  readonly answer: Answer;
  /** Rows, points or tests by the word of their verdict. */
  readonly verdictCounts: ReadonlyMap<string, number>;
  readonly inputs: readonly LedgerFile[];
  readonly outputs: readonly LedgerOutput[];
}

/** A line of a ledger, as it stands in its file. */
export interface LedgerLine {
  /** Of the file, from 1. */
  readonly line: number;
  /** Number that the line has been given, from 1. */
  readonly sequence: number;
  readonly timeUtc: string;
  readonly command: string;
  readonly answer: string;
  readonly verdictCounts: Readonly<Record<string, number>>;
  readonly inputs: readonly LedgerFile[];
  readonly outputs: readonly LedgerOutput[];
  /** The digest that the line states of the one before it; null: it says that it is the first. */
  readonly previousSha256: string | null;
  /** The digest that the line states of itself. */
  readonly statedSha256: string;
  /** The digest of what stands in the line. */
  readonly actualSha256: string;
}
