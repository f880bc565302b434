import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';

/** What a base correction did, at worst, among the points measured from that base. */
export interface BaseEffect {
  /** Its id, and where several set-ups have that what tells it from them. */
  readonly baseId: string;
  readonly movedM: number;
  readonly shortcutErrorM: number;
  readonly farthestM: number;
}

/** The effects of the bases of a run, by `setupKey`. */
export interface BaseEffects {
  readonly all: ReadonlyMap<string, BaseEffect>;
  /** Counts a point. `shortcutErrorM`: null where its base was not moved. */
  readonly add: (point: ReducedPoint, base: PreparedBase | null, shortcutErrorM: number | null) => void;
  /** Adds those of rows that follow those counted so far. */
  readonly addPart: (part: ReadonlyMap<string, BaseEffect>) => void;
  readonly clear: () => void;
}

/** Effects of nothing. */
export function createBaseEffects(): BaseEffects {
  const all = new Map<string, BaseEffect>();
  return {
    all,
    add({ baseline }, base, shortcutErrorM) {
      const correction = base?.correction ?? null;
      if (correction === null || baseline === null || base === null) return;
      const { setupKey, setupName } = base.identity;
      const old = all.get(setupKey);
      if (old !== undefined && old.farthestM >= baseline.distanceM) return;
      all.set(setupKey, {
        baseId: setupName,
        movedM: correction.magnitudeM,
        // Where the base was not moved there is no shortcut to be wrong.
        shortcutErrorM: shortcutErrorM ?? 0,
        farthestM: baseline.distanceM,
      });
    },
    addPart(part) {
      for (const [id, effect] of part) if (effect.farthestM > (all.get(id)?.farthestM ?? -1)) all.set(id, effect);
    },
    clear() {
      all.clear();
    },
  };
}
