import { exchangedNames } from '../../../core/adjustment/site/exchanged-names.js';
import { entryAt } from '../../../records/present.js';
import type { ControlPair } from '../control/pair-control.js';

/** Names that fit the other way round, and the RMS in plan then, metres. */
export interface SiteExchange {
  /** Of two, each belongs to the other's place; of more, each to the place of the next. */
  readonly cycles: readonly (readonly string[])[];
  readonly rmsM: number;
}

/** Names of control that look exchanged, with `scale` held, or free where it is null; null: none do. */
export function exchangeOf(pairs: readonly ControlPair[], scale: number | null): SiteExchange | null {
  const found = exchangedNames(
    pairs.map((pair) => ({ source: pair.source, target: pair.target ?? pair.source })),
    scale,
  );
  return found === null
    ? null
    : {
        cycles: found.cycles.map((cycle) => cycle.map((index) => entryAt(pairs, index).control.pointId)),
        rmsM: found.rmsM,
      };
}
