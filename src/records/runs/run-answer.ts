/** The answer of a run, in three states; exit codes, pages, records and JUnit files all say this one. */
export type Answer = 'within' | 'review' | 'no';

/** The answer of a run and what was counted on the way to it. */
export interface RunAnswer {
  readonly answer: Answer;
  /** Rows, points or tests by the word of their verdict, in the order they are to be said. */
  readonly verdicts: ReadonlyMap<string, number>;
  /** How many rows carry each reason. */
  readonly reasons: ReadonlyMap<string, number>;
}
