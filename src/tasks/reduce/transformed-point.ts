import type { Problem } from '../../records/problem.js';

/** A point on its way, filled in by the transformer: one record serves a whole run. */
export interface TransformedPoint {
  /** Grid pair, or latitude and longitude in degrees, or X and Y or east and north in metres, of the target. */
  first: number;
  second: number;
  /** Z of a geocentric target, up of a topocentric one, metres. */
  third: number;
  /** In the target's frame. */
  latitudeDeg: number;
  longitudeDeg: number;
  ellipsoidalHeightM: number | null;
  orthometricHeightM: number | null;
  geoidHeightM: number | null;
  /** Grid pair of the target before a step out; the same as `first` and `second` without one. */
  gridFirst: number;
  gridSecond: number;
  isOutsideArea: boolean;
  /** A warning that goes with the position; null: none. */
  doubt: Problem | null;
}

/** A record for the transformer to fill. */
export function emptyTransformedPoint(): TransformedPoint {
  return {
    first: 0,
    second: 0,
    third: 0,
    latitudeDeg: 0,
    longitudeDeg: 0,
    ellipsoidalHeightM: null,
    orthometricHeightM: null,
    geoidHeightM: null,
    gridFirst: 0,
    gridSecond: 0,
    isOutsideArea: false,
    doubt: null,
  };
}
