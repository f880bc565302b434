/** Keeps items of a stream that are evenly spread over it, whatever its length. */
export interface EvenlyKept<T> {
  /** True when the next item would be kept: ask before making a costly one, then add it or skip it. */
  readonly wants: () => boolean;
  readonly add: (item: T) => void;
  readonly skip: () => void;
  readonly items: () => readonly T[];
}

/** An empty store: every item until there are `most`, then every other of them and every second, and so on. */
export function keepEvenly<T>(most: number): EvenlyKept<T> {
  let kept: T[] = [];
  let offered = 0;
  let step = 1;
  return {
    wants: () => offered % step === 0,
    add(item) {
      kept.push(item);
      offered += 1;
      if (kept.length < most) return;
      kept = kept.filter((_, index) => index % 2 === 0);
      step *= 2;
    },
    skip() {
      offered += 1;
    },
    items: () => kept,
  };
}
