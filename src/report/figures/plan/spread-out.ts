import { entryAt } from '../../../records/present.js';
import type { Place } from '../shapes.js';

/**
 * Of many places the first in each square of a raster, by index, so that what is drawn beside them can be
 * told apart. The squares grow until no more than `most` are left.
 */
export function spreadOut(places: readonly Place[], most: number): readonly number[] {
  if (places.length <= most) return places.map((_, index) => index);
  for (let side = 6; ; side *= 1.5) {
    const taken = new Set<string>();
    const kept: number[] = [];
    for (const [index, { x, y }] of places.entries()) {
      const square = `${Math.floor(x / side)} ${Math.floor(y / side)}`;
      if (taken.has(square)) continue;
      taken.add(square);
      kept.push(index);
    }
    if (kept.length <= most) return kept;
  }
}

/** The same of things with a place. */
export function pickedBySpread<T>(items: readonly T[], placeOf: (item: T) => Place, most: number): readonly T[] {
  return spreadOut(items.map(placeOf), most).map((index) => entryAt(items, index));
}
