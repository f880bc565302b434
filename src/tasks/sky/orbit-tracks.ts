import { orbitTrack } from '../../core/sky/orbit-track.js';
import type { OrbitTrack } from '../../core/sky/orbit-track.js';
import { SKY_SYSTEMS } from '../../records/sky/orbit-elements.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';

/** A track of every satellite at instants on the clock of GPS, in the order of systems and names. */
export function orbitTracks(elements: readonly OrbitElements[], onGps: readonly number[]): readonly OrbitTrack[] {
  const bySatellite = new Map<string, [OrbitElements, ...OrbitElements[]]>();
  for (const one of elements) {
    const own = bySatellite.get(one.satellite);
    if (own === undefined) bySatellite.set(one.satellite, [one]);
    else own.push(one);
  }
  return [...bySatellite.values()]
    .map((own) => orbitTrack(own, onGps))
    .sort(
      (a, b) => SKY_SYSTEMS.indexOf(a.system) - SKY_SYSTEMS.indexOf(b.system) || (a.satellite < b.satellite ? -1 : 1),
    );
}
