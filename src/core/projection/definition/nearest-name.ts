/**
 * The known name nearest to one that is not known, for a hint; null when none is near.
 *
 * Near means that at most a third of the letters, and at most three, must be changed, added or
 * left out. Of equally near names the first listed wins.
 */
export function nearestName(wanted: string, known: readonly string[]): string | null {
  const limit = Math.min(3, Math.max(1, Math.floor(wanted.length / 3)));
  let best: string | null = null;
  let bestDistance = limit + 1;
  for (const name of known) {
    const distance = editDistance(wanted.toLowerCase(), name.toLowerCase());
    if (distance < bestDistance) {
      best = name;
      bestDistance = distance;
    }
  }
  return best;
}

/** Letters to change, add or leave out to turn one word into the other. */
function editDistance(a: string, b: string): number {
  let previous = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const change = (previous[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      row.push(Math.min(change, (previous[j] as number) + 1, (row[j - 1] as number) + 1));
    }
    previous = row;
  }
  return previous[b.length] as number;
}
