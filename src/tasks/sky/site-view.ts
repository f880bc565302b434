import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { azimuthOf, directionTo, elevationOf, viewpointAt } from '../../core/sky/look-angle.js';
import type { Viewpoint } from '../../core/sky/look-angle.js';
import { skylineAt, skylineOf } from '../../core/sky/obstruction-mask.js';
import type { Skyline } from '../../core/sky/obstruction-mask.js';
import { HEALTHY } from '../../core/sky/orbit-track.js';
import type { OrbitTrack } from '../../core/sky/orbit-track.js';
import { RADIANS_PER_DEGREE } from '../../core/numeric/angle-units.js';
import type { SkySite } from '../../records/sky/site-sky.js';

/** What hides a satellite from a site. */
export interface SiteView {
  readonly view: Viewpoint;
  readonly skyline: Skyline;
  readonly elevationMaskDeg: number;
  /** Below this upward part of a direction nothing is above the mask. */
  readonly leastUp: number;
}

/** The view from a site with the mask of elevation, degrees, that holds all around. */
export function siteView(site: SkySite, elevationMaskDeg: number, ellipsoid: Ellipsoid): SiteView {
  const place = { ...site, ellipsoidalHeightM: site.ellipsoidalHeightM ?? 0 }; // A kilometre of height turns directions by less than 0.003°.
  return {
    view: viewpointAt(place, ellipsoid),
    skyline: skylineOf(site.skyline),
    elevationMaskDeg,
    leastUp: Math.sin(elevationMaskDeg * RADIANS_PER_DEGREE),
  };
}

/** Whether a direction, unit vector east, north and up in `unit` from `at` on, is above the masks of a site. */
export function isAboveMasks({ skyline, leastUp }: SiteView, unit: Float64Array, at: number): boolean {
  const up = unit[at + 2]!;
  if (up < leastUp) return false;
  return skyline.length === 0 || elevationOf(up) >= skylineAt(skyline, azimuthOf(unit[at]!, unit[at + 1]!));
}

/** Which satellites a site sees at each instant, one byte each: satellite by satellite, 1 above its masks. */
export function seenFrom(view: SiteView, tracks: readonly OrbitTrack[], instants: number): Uint8Array {
  const seen = new Uint8Array(tracks.length * instants);
  const unit = new Float64Array(3);
  for (const [t, { places, states }] of tracks.entries())
    for (let i = 0; i < instants; i += 1) {
      if (states[i] !== HEALTHY) continue;
      directionTo(view.view, places, 3 * i, unit, 0);
      if (isAboveMasks(view, unit, 0)) seen[t * instants + i] = 1;
    }
  return seen;
}
