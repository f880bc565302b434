/** So many of a list, evenly picked, the first and the last among them; all of a short one. */
export function evenlyPicked<T>(items: readonly T[], most: number): readonly T[] {
  if (items.length <= most) return items;
  return Array.from(
    { length: most },
    (_, i) => items[Math.round((i * (items.length - 1)) / Math.max(1, most - 1))],
  ).flatMap((item) => (item === undefined ? [] : [item]));
}
