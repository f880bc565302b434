/**
 * Counts of words over rows: verdicts or reasons.
 *
 * Given: the rows; the words of a row. Returned: how many rows have each word, in the order of their first appearance; a
 * word twice in one row counts once.
 */
export function countWords<T>(rows: Iterable<T>, wordsOf: (row: T) => readonly string[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const row of rows) {
    const words = wordsOf(row);
    // Most rows have none, of which no set is made.
    if (words.length > 0) for (const word of new Set(words)) counts.set(word, (counts.get(word) ?? 0) + 1);
  }
  return counts;
}
