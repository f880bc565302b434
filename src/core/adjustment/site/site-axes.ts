import { axisSigns } from '../../grid/systems/grid-axes.js';
import type { PlanePoint } from '../convex-hull.js';

/** The two columns of a plane system: which way they run is in their names, easting or westing first. */
export interface SiteAxes {
  readonly columns: readonly [string, string];
  readonly metresPerUnit: number;
}

/** `toEastNorth` and `fromEastNorth` of many pairs in the same axes: which way these run is looked up once. */
export function axesAtWork(axes: SiteAxes): {
  readonly toEastNorth: (first: number, second: number) => PlanePoint;
  readonly fromEastNorth: (place: PlanePoint) => { readonly first: number; readonly second: number };
} {
  const { metresPerUnit } = axes;
  const [eastSign, northSign] = axisSigns(axes.columns);
  const [eastM, northM] = [eastSign * metresPerUnit, northSign * metresPerUnit];
  return {
    toEastNorth: (first, second) => ({
      eastM: first * eastSign * metresPerUnit,
      northM: second * northSign * metresPerUnit,
    }),
    fromEastNorth: (place) => ({ first: place.eastM / eastM, second: place.northM / northM }),
  };
}

/** A pair in a system's own axes and unit as metres along east and north. Inverse: `fromEastNorth`. */
export function toEastNorth(axes: SiteAxes, first: number, second: number): PlanePoint {
  const [eastSign, northSign] = axisSigns(axes.columns);
  return { eastM: first * eastSign * axes.metresPerUnit, northM: second * northSign * axes.metresPerUnit };
}

/** Metres along east and north as a pair in a system's own axes and unit. Inverse: `toEastNorth`. */
export function fromEastNorth(axes: SiteAxes, place: PlanePoint): { readonly first: number; readonly second: number } {
  const [eastSign, northSign] = axisSigns(axes.columns);
  return {
    first: place.eastM / (eastSign * axes.metresPerUnit),
    second: place.northM / (northSign * axes.metresPerUnit),
  };
}
