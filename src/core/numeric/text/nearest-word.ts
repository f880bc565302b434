/**
 * The candidate nearest to a mistyped word, for "did you mean".
 *
 * Distance counts single characters inserted, deleted, replaced, or exchanged with a neighbour;
 * case is ignored. Of equally near candidates the first wins.
 *
 * Given: the word; the words it could have been; the greatest distance still called near, by
 * default a third of the word's length and at least 1; of a single character 0, as any other would be
 * as near. Returned: the candidate, or null.
 */
export function nearestWord(
  word: string,
  candidates: Iterable<string>,
  maxDistance: number = word.length < 2 ? 0 : Math.max(1, Math.floor(word.length / 3)),
): string | null {
  const typed = word.toLowerCase();
  let best: string | null = null;
  let bestDistance = maxDistance + 1;
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - typed.length) >= bestDistance) continue;
    const distance = editDistance(typed, candidate.toLowerCase());
    if (distance < bestDistance) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

/**
 * Count of single-character edits between two words: insert, delete, replace, or exchange of
 * neighbours (each place edited at most once).
 */
export function editDistance(from: string, to: string): number {
  let before: number[] = [];
  let last: number[] = Array.from({ length: to.length + 1 }, (_, j) => j);
  for (let i = 1; i <= from.length; i += 1) {
    const row: number[] = [i];
    for (let j = 1; j <= to.length; j += 1) {
      const same = from.charAt(i - 1) === to.charAt(j - 1);
      let cost = Math.min(
        (last[j] as number) + 1,
        (row[j - 1] as number) + 1,
        (last[j - 1] as number) + (same ? 0 : 1),
      );
      // Before the first letter there is none, which equals no letter.
      if (from.charAt(i - 1) === to.charAt(j - 2) && from.charAt(i - 2) === to.charAt(j - 1)) {
        cost = Math.min(cost, (before[j - 2] as number) + 1);
      }
      row.push(cost);
    }
    before = last;
    last = row;
  }
  return last[to.length] as number;
}
