import type { ProblemCode } from '../../../records/codes/problem-codes.js';

/** Something that is not as the ledger of a job says. */
export interface LedgerChange {
  readonly code: ProblemCode;
  /** The line of the ledger that says so, from 1; null: none does. */
  readonly line: number | null;
  /** The file, from the folder of the job; null: the ledger itself. */
  readonly name: string | null;
  readonly expectedSha256: string | null;
  readonly foundSha256: string | null;
  /** What happened, in words. */
  readonly said: string;
}
