/**
 * Counts of words over rows: verdicts or reasons.
 *
 * Given: the rows; the words of a row. Returned: how many rows have each word, in the order of their first appearance; a
 * word twice in one row counts once.
 */
export function countWords<T>(rows: Iterable<T>, wordsOf: (row: T) => readonly string[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const row of rows) for (const word of new Set(wordsOf(row))) counts.set(word, (counts.get(word) ?? 0) + 1);
  return counts;
}
