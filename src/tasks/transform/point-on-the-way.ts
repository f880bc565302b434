import type { MutableGeocentric } from '../../core/frames/shifts/shift-definition.js';
import type { GeographicPair, GridPair } from '../../core/grid/systems/grid-system.js';
import type { Problem } from '../../records/problem.js';
import type { SiteFigures } from '../site/apply-site.js';

/** What the coordinates of a point are at a moment of its way. */
export type Form =
  /** A pair in a plane: of a grid, of the ground, of a site. */
  | 'plane'
  /** Latitude and longitude with the ellipsoidal height. */
  | 'place'
  /** X, Y, Z. */
  | 'geocentric'
  /** East, north and up about an origin. */
  | 'topocentric';

/**
 * A point on its way from one system to another: one record serves a whole run, and steps write into it. What was
 * computed of a point in one form stays when it goes on in another, so that at the end each that was needed is there.
 */
export interface PointOnTheWay extends GridPair, GeographicPair, MutableGeocentric {
  /** About an origin, metres. */
  eastM: number;
  northM: number;
  upM: number;
  /** Null: not known, and never made up. */
  ellipsoidalHeightM: number | null;
  /** Belongs to the ground, not to the frame, and is carried along. */
  orthometricHeightM: number | null;
  /** Of the geoid that a height went through. */
  geoidHeightM: number | null;
  /** X, Y, Z were made without the ellipsoidal height: the orthometric one, or 0, stood in. */
  heightStandsIn: boolean;
  /** The grid pair beneath ground coordinates, and the ellipsoidal height known with it. */
  gridFirst: number;
  gridSecond: number;
  gridHeightM: number | null;
  /** What a site adds to the uncertainty of the point; null: no site. */
  site: SiteFigures | null;
  /** Outside the area of use of the target; when the run has looked at it, also outside that of the zone it comes from or the area of an operation. */
  isOutsideArea: boolean;
  /** Warnings that go with the position. */
  doubts: readonly Problem[];
}

const NO_DOUBTS: readonly Problem[] = [];

/**
 * A record for a run to fill.
 *
 * @example
 * // Nothing is known of a height until a row or a step says it.
 * emptyPointOnTheWay().ellipsoidalHeightM; // null
 * emptyPointOnTheWay().heightStandsIn; // false
 */
export function emptyPointOnTheWay(): PointOnTheWay {
  return {
    first: 0,
    second: 0,
    latitudeDeg: 0,
    longitudeDeg: 0,
    xM: 0,
    yM: 0,
    zM: 0,
    eastM: 0,
    northM: 0,
    upM: 0,
    ellipsoidalHeightM: null,
    orthometricHeightM: null,
    geoidHeightM: null,
    heightStandsIn: false,
    gridFirst: 0,
    gridSecond: 0,
    gridHeightM: null,
    site: null,
    isOutsideArea: false,
    doubts: NO_DOUBTS,
  };
}

/** Begins the way of another point: what the last one left is forgotten, but for coordinates, which are written over. */
export function beginWay(
  point: PointOnTheWay,
  ellipsoidalHeightM: number | null,
  orthometricHeightM: number | null,
): void {
  point.ellipsoidalHeightM = ellipsoidalHeightM;
  point.orthometricHeightM = orthometricHeightM;
  point.geoidHeightM = null;
  point.heightStandsIn = false;
  point.site = null;
  point.isOutsideArea = false;
  point.doubts = NO_DOUBTS;
}
