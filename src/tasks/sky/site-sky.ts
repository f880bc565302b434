import { dilution } from '../../core/sky/dilution.js';
import { azimuthOf, directionTo, elevationOf } from '../../core/sky/look-angle.js';
import { HEALTHY } from '../../core/sky/orbit-track.js';
import type { OrbitTrack } from '../../core/sky/orbit-track.js';
import { skyReasons, skyWindows, windowsVerdict } from '../../core/sky/sky-windows.js';
import { SKY_SYSTEMS } from '../../records/sky/orbit-elements.js';
import type { SiteSky, SkyEpoch, SkyLimits, SkySight, SkySite } from '../../records/sky/site-sky.js';
import { isAboveMasks } from './site-view.js';
import type { SiteView } from './site-view.js';

/** What all sites of a plan share. */
export interface SharedSky {
  readonly tracks: readonly OrbitTrack[];
  /** UTC, milliseconds since 1970, in order. */
  readonly instants: readonly number[];
  readonly endMs: number;
  readonly limits: SkyLimits;
  /** What the base sees, as `seenFrom` gives it; null: no base. */
  readonly fromBase: Uint8Array | null;
}

/** The sky of a site: of every instant the satellites that both ends see, their dilution and whether they meet the limits. */
export function siteSky(site: SkySite, view: SiteView, shared: SharedSky): SiteSky {
  const { tracks, instants, endMs, limits } = shared;
  const systems = tracks.map(({ system }) => SKY_SYSTEMS.indexOf(system));
  const room = {
    units: new Float64Array(3 * tracks.length),
    systems: new Uint8Array(tracks.length),
    unit: new Float64Array(3),
  };
  const epochs = instants.map((utcMs, index): SkyEpoch => {
    const seen = lookAround(view, shared, systems, index, room);
    const found = dilution(room.units, room.systems, seen.satellites, SKY_SYSTEMS.length);
    return { utcMs, ...seen, dilution: found, reasons: skyReasons(seen.satellites, found?.pdop ?? null, limits) };
  });
  const windows = skyWindows(epochs, endMs);
  return { site, epochs, windows, verdict: windowsVerdict(windows) };
}

interface LookingRoom {
  readonly units: Float64Array;
  readonly systems: Uint8Array;
  readonly unit: Float64Array;
}

/** Counts what is seen at one instant, and lays the directions of what both ends see into the room. */
function lookAround(
  view: SiteView,
  { tracks, instants, fromBase }: SharedSky,
  systems: readonly number[],
  index: number,
  { units, systems: ofUnits, unit }: LookingRoom,
): Pick<SkyEpoch, 'satellites' | 'satellitesAtSite' | 'satellitesAtBase' | 'bySystem'> {
  let [satellites, atSite, atBase] = [0, 0, 0];
  const bySystem = SKY_SYSTEMS.map(() => 0);
  for (let t = 0; t < tracks.length; t += 1) {
    const isFromBase = fromBase === null || fromBase[t * instants.length + index] === 1;
    if (isFromBase) atBase += 1;
    const { places, states } = tracks[t]!;
    if (states[index] !== HEALTHY) continue;
    directionTo(view.view, places, 3 * index, unit, 0);
    if (!isAboveMasks(view, unit, 0)) continue;
    atSite += 1;
    if (!isFromBase) continue;
    units.set(unit, 3 * satellites);
    const system = systems[t]!;
    ofUnits[satellites] = system;
    bySystem[system] = bySystem[system]! + 1;
    satellites += 1;
  }
  return { satellites, satellitesAtSite: atSite, satellitesAtBase: fromBase === null ? null : atBase, bySystem };
}

/** Every satellite above the horizon of a site, satellite by satellite in the order of time. */
export function sightsFrom(view: SiteView, { tracks, instants, fromBase }: SharedSky): readonly SkySight[] {
  const unit = new Float64Array(3);
  return tracks.flatMap(({ satellite, system, places, states }, t) =>
    instants.flatMap((utcMs, index): readonly SkySight[] => {
      if (states[index] !== HEALTHY) return [];
      directionTo(view.view, places, 3 * index, unit, 0);
      const elevationDeg = elevationOf(unit[2]!);
      if (elevationDeg < 0) return [];
      return [
        {
          ...{ satellite, system, utcMs, elevationDeg },
          azimuthDeg: azimuthOf(unit[0]!, unit[1]!),
          isAboveSiteMask: isAboveMasks(view, unit, 0),
          isAboveBaseMask: fromBase === null ? null : fromBase[t * instants.length + index] === 1,
        },
      ];
    }),
  );
}
