/** Keeps a bounded number of items: those with the greatest need, the earliest of equals. */
export interface MostNeeded<T> {
  /** True when the item would be kept: ask before making a costly one. */
  readonly wants: (need: number) => boolean;
  readonly add: (need: number, item: T) => void;
  /** In the order they were added. */
  readonly items: () => readonly T[];
}

/** An empty store. `need` is a small whole number, not negative. */
export function keepMostNeeded<T>(most: number): MostNeeded<T> {
  const byNeed: { readonly order: number; readonly item: T }[][] = [];
  let kept = 0;
  let offered = 0;
  const lowest = (): number => byNeed.findIndex((items) => items !== undefined && items.length > 0);
  return {
    wants: (need) => kept < most || need > lowest(),
    add(need, item) {
      offered += 1;
      if (kept < most) kept += 1;
      else {
        const least = lowest();
        if (need <= least) return;
        byNeed[least]?.pop();
      }
      (byNeed[need] ??= []).push({ order: offered, item });
    },
    items: () =>
      byNeed
        .flatMap((items) => items ?? [])
        .sort((a, b) => a.order - b.order)
        .map(({ item }) => item),
  };
}
