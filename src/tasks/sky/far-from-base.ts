import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { SkySite } from '../../records/sky/site-sky.js';
import type { SkySetup } from './sky-setup.js';

/** A site that one base does not serve. */
export interface FarSite {
  readonly id: string;
  /** Straight through the ground, metres. */
  readonly distanceM: number;
}

/** Beyond this no base serves a rover in real time, and what both see in common says little. Common practice, no published source. */
export const MOST_FROM_BASE_M = 100_000;

/** The sites farther from the base than one base serves, the farthest first: the place of a base is typed, and its two numbers are exchanged easily. */
export function farFromBase({
  base,
  sites,
  ellipsoid,
}: Pick<SkySetup, 'base' | 'sites' | 'ellipsoid'>): readonly FarSite[] {
  if (base === null) return [];
  const at = (site: SkySite): GeocentricPoint => {
    const ellipsoidalHeightM = site.ellipsoidalHeightM ?? 0; // On the ellipsoid: of a hundred kilometres a height is nothing.
    return geodeticToGeocentric({ ...site, ellipsoidalHeightM }, ellipsoid);
  };
  const from = at(base);
  return sites
    .map((site) => {
      const to = at(site);
      return { id: site.id, distanceM: Math.hypot(to.xM - from.xM, to.yM - from.yM, to.zM - from.zM) };
    })
    .filter(({ distanceM }) => distanceM > MOST_FROM_BASE_M)
    .sort((a, b) => b.distanceM - a.distanceM);
}
