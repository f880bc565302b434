import type { SharedError } from '../../../core/adjustment/shared-error.js';
import { baseNamed } from '../../bases/choose-base.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { BaseSettings } from '../../../records/session.js';

/** The error of a base that every point measured from it carries, whole. */
export interface SharedBase {
  /** The same for set-ups over one known coordinate, whatever they are called. */
  readonly id: string;
  readonly names: string;
  readonly horizontalM2: number;
  readonly verticalM2: number;
}

/** The least part of a measured variance that is the point's own, where a base claims more of it. An assumption. */
const LEAST_OWN_PART = 0.1;

/**
 * Finds what a measured point shares with others: the error of the base it names, as the session states it.
 * Given: the bases of the session, with or without a known coordinate. Returned: null for a point whose base is not in the session,
 * or states no sigma; a point that names none belongs to the only base there is.
 */
export function sharedBases(bases: readonly BaseSettings[]): (row: PointRow) => SharedBase | null {
  const wrapped = bases.map((settings) => ({ settings }));
  const keyOf = (settings: BaseSettings): string =>
    settings.known === null ? `set-up ${String(bases.indexOf(settings))}` : JSON.stringify(settings.known);
  return (row) => {
    const only = bases.length === 1 && row.baseId === null ? bases[0] : undefined;
    const settings = only ?? (row.baseId === null ? undefined : baseNamed(row, wrapped)?.settings);
    if (settings === undefined) return null;
    // Not stated: it adds nothing, and the summary says what is missing.
    const [horizontalM2, verticalM2] = [(settings.sigmaHorizontalM ?? 0) ** 2, (settings.sigmaVerticalM ?? 0) ** 2];
    return horizontalM2 > 0 || verticalM2 > 0
      ? { id: keyOf(settings), names: settings.id, horizontalM2, verticalM2 }
      : null;
  };
}

/** A stated variance of a measured point without the base's part of it, m². */
export function ownVarianceM2(totalM2: number, baseM2: number): number {
  return Math.max(totalM2 - baseM2, LEAST_OWN_PART * totalM2);
}

/** Every base that some points share, with its variance. */
export function sharedErrors(
  pairs: readonly { readonly shared: SharedBase | null }[],
  variance: (base: SharedBase) => number,
): readonly SharedError[] {
  const found = new Map<string, SharedError>();
  for (const { shared } of pairs)
    if (shared !== null && variance(shared) > 0) found.set(shared.id, { id: shared.id, varianceM2: variance(shared) });
  return [...found.values()];
}
