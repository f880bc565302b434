/** How a mark is drawn: `bad` fails, `doubt` is for review or cannot be judged, `mark` is as it should be. */
export type MarkClass = 'mark' | 'doubt' | 'bad';

/** What is drawn of many marks. */
export interface Thinned<T> {
  /** Those as they should be, then those in doubt, then those that fail: what is drawn last lies on top. */
  readonly drawn: readonly T[];
  /** How many are as they should be, and how many of these are drawn. */
  readonly good: { readonly all: number; readonly drawn: number };
}

/**
 * Leaves out of many marks those that a reader can do without: only ever some of those that are as they should be.
 * What fails or is in doubt is all drawn, in the order of the list.
 */
export function thinned<T>(
  items: readonly T[],
  classOf: (item: T) => MarkClass,
  pick: (good: readonly T[]) => readonly T[],
): Thinned<T> {
  const of = (wanted: MarkClass): readonly T[] => items.filter((item) => classOf(item) === wanted);
  const good = of('mark');
  const picked = pick(good);
  return { drawn: [...picked, ...of('doubt'), ...of('bad')], good: { all: good.length, drawn: picked.length } };
}

/** What a caption says of it; empty where all are drawn. `good` names those as they should be: `within`, `accepted`. */
export function thinWords({ drawn, good: { all, drawn: kept } }: Thinned<unknown>, good: string, how: string): string {
  if (kept === all) return '';
  const others = drawn.length - kept;
  return ` Of ${String(all)} ${good} ${String(kept)} are drawn, ${how}; ${others === 0 ? 'there are no others' : `all ${String(others)} others are drawn`}.`;
}
