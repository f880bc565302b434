/** One thing a standard lets one say, or forbids. */
export interface StandardStatement {
  readonly what: string;
  /** In words, with the number and its unit. */
  readonly text: string;
  readonly verdict: 'within' | 'exceeds' | 'not-stated' | 'information';
}
