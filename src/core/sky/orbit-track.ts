import type { OrbitElements, SkySystem } from '../../records/sky/orbit-elements.js';
import { present } from '../../records/present.js';
import { elementsChoice } from './chosen-elements.js';
import { keplerPlace } from './kepler-place.js';
import { statePlaces } from './state-places.js';

/** How the sky of an instant is known of a satellite. */
export const NO_ELEMENTS = 0;
export const HEALTHY = 1;
export const UNHEALTHY = 2;

/** A satellite at the instants of a plan. */
export interface OrbitTrack {
  readonly satellite: string;
  readonly system: SkySystem;
  /** X, Y, Z of each instant, metres, Earth-fixed; 0 where it is not healthy. */
  readonly places: Float64Array;
  /** Of each instant `NO_ELEMENTS`, `HEALTHY` or `UNHEALTHY`. */
  readonly states: Uint8Array;
  /** The elements that were used, each once. */
  readonly used: readonly OrbitElements[];
  /** Largest distance in time from an instant to the elements used for it, milliseconds, of each origin; null: none was used. */
  readonly oldestMs: Readonly<Record<OrbitElements['origin'], number | null>>;
}

/** Where a satellite is at instants on the clock of GPS, by the elements that hold at each. Given: elements of that satellite, one at least. */
export function orbitTrack(
  elements: readonly [OrbitElements, ...OrbitElements[]],
  instants: readonly number[],
): OrbitTrack {
  const choose = elementsChoice(elements);
  const places = new Float64Array(3 * instants.length);
  const states = new Uint8Array(instants.length);
  const byElements = new Map<OrbitElements, number[]>();
  const oldestMs: Record<OrbitElements['origin'], number | null> = { broadcast: null, almanac: null };
  for (const [index, gpsMs] of instants.entries()) {
    const chosen = choose(gpsMs);
    states[index] = chosen === null ? NO_ELEMENTS : chosen.isHealthy ? HEALTHY : UNHEALTHY;
    if (chosen?.isHealthy !== true) continue;
    const indices = byElements.get(chosen);
    if (indices === undefined) byElements.set(chosen, [index]);
    else indices.push(index);
    const before = oldestMs[chosen.origin];
    const awayMs = Math.abs(gpsMs - chosen.referenceMs);
    if (before === null || awayMs > before) oldestMs[chosen.origin] = awayMs;
  }
  for (const [own, indices] of byElements) {
    const times = indices.map((index) => present(instants[index], 'an instant'));
    if (own.kind === 'kepler') indices.forEach((index, k) => keplerPlace(own, times[k]!, places, 3 * index));
    else {
      const found = statePlaces(own, times);
      indices.forEach((index, k) => places.set(found.subarray(3 * k, 3 * k + 3), 3 * index));
    }
  }
  const { satellite, system } = elements[0];
  return { satellite, system, places, states, used: [...byElements.keys()], oldestMs };
}
