/** One thing a standard lets one say, or forbids; or what a check could not hold against anything. */
export interface StandardStatement {
  readonly what: string;
  /** In words, with the number and its unit. */
  readonly text: string;
  readonly verdict: 'within' | 'exceeds' | 'not-stated' | 'information';
  /** What mends it, as a sentence without its full stop, where it is no standard that asks for it. */
  readonly mend?: string;
}
