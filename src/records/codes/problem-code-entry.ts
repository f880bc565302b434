/** Exit codes a problem can lead to; cli/exit-codes.ts has the table printed to people. */
export type ProblemExit = 1 | 2 | 3 | 4 | 70 | 130;

export interface ProblemCodeEntry {
  readonly exit: ProblemExit;
  /** What it means, in plain words. */
  readonly meaning: string;
  /** What mends it. */
  readonly fix: string;
}
