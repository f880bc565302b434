import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import { entryAt } from '../../records/present.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** Broadcast elements this near to an instant go before any almanac, and carry no warning: directions from them are within 0.02° (measured; docs/methods/sky.md). */
export const FRESH_MS: number = DAY_MS;
/** Farther away broadcast elements are not used: of GLONASS, whose state is integrated, and of the others. Common practice, no published source. */
export const LONGEST_STATE_MS: number = 3 * DAY_MS;
export const LONGEST_KEPLER_MS: number = 7 * DAY_MS;
/** An almanac that is older carries a warning, and is not used beyond the second. Common practice, no published source. */
export const FRESH_ALMANAC_MS: number = 14 * DAY_MS;
export const LONGEST_ALMANAC_MS: number = 182 * DAY_MS;

/** Of elements of one satellite: those that hold at an instant. */
export type ElementsChoice = (gpsMs: number) => OrbitElements | null;

/**
 * Which elements of a satellite hold when.
 *
 * Given: elements of one satellite in any order. Returned: what tells them for an instant on the clock of GPS: the broadcast ones whose reference time lies
 * nearest, where that is within a day; else the nearest almanac; else the nearest broadcast ones; null where all lie too
 * far away. What the nearest say of health counts: an unhealthy satellite is not saved by what it said hours before. Of two at one
 * time the first stays.
 */
export function elementsChoice(elements: readonly OrbitElements[]): ElementsChoice {
  const byTime = (origin: OrbitElements['origin']): readonly OrbitElements[] =>
    elements.filter((one) => one.origin === origin).sort((a, b) => a.referenceMs - b.referenceMs);
  const broadcast = byTime('broadcast');
  const almanac = byTime('almanac');
  return (gpsMs) => {
    const near = nearest(broadcast, gpsMs);
    if (near !== null && Math.abs(gpsMs - near.referenceMs) <= FRESH_MS) return near;
    const listed = nearest(almanac, gpsMs);
    if (listed !== null && Math.abs(gpsMs - listed.referenceMs) <= LONGEST_ALMANAC_MS) return listed;
    if (near === null) return null;
    const longestMs = near.kind === 'state' ? LONGEST_STATE_MS : LONGEST_KEPLER_MS;
    return Math.abs(gpsMs - near.referenceMs) <= longestMs ? near : null;
  };
}

/** Of elements in the order of time those nearest to an instant, the first of equals. */
function nearest(sorted: readonly OrbitElements[], gpsMs: number): OrbitElements | null {
  if (sorted.length === 0) return null;
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (entryAt(sorted, middle).referenceMs < gpsMs) low = middle + 1;
    else high = middle;
  }
  const before = sorted[firstOfItsTime(sorted, low - 1)];
  const after = sorted[low];
  if (before === undefined || after === undefined) return before ?? after ?? null;
  return gpsMs - before.referenceMs <= after.referenceMs - gpsMs ? before : after;
}

function firstOfItsTime(sorted: readonly OrbitElements[], index: number): number {
  let first = index;
  while (first > 0 && sorted[first - 1]?.referenceMs === sorted[first]?.referenceMs) first -= 1;
  return first;
}
