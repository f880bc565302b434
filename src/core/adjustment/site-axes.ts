import type { PlanePoint } from './convex-hull.js';

/** The two columns of a plane system: which way they run is in their names, easting or westing first. */
export interface SiteAxes {
  readonly columns: readonly [string, string];
  readonly metresPerUnit: number;
}

/** −1 where the first column is a westing (and the second a southing), else 1. */
function direction(axes: SiteAxes): 1 | -1 {
  return axes.columns[0].startsWith('westing') ? -1 : 1;
}

/** A pair in a system's own axes and unit as metres along east and north. Inverse: `fromEastNorth`. */
export function toEastNorth(axes: SiteAxes, first: number, second: number): PlanePoint {
  const factor = direction(axes) * axes.metresPerUnit;
  return { eastM: first * factor, northM: second * factor };
}

/** Metres along east and north as a pair in a system's own axes and unit. Inverse: `toEastNorth`. */
export function fromEastNorth(axes: SiteAxes, place: PlanePoint): { readonly first: number; readonly second: number } {
  const factor = direction(axes) * axes.metresPerUnit;
  return { first: place.eastM / factor, second: place.northM / factor };
}
