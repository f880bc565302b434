import { formatFixed } from '../numeric/text/format-fixed.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { Ellipsoid } from './ellipsoid.js';
import { geodeticToGeocentric } from './geocentric.js';

/**
 * Two forms of one place may differ by this much, metres, beside what their last digits leave unsaid: programs differ by
 * less, datums and slips by more. Common practice, no published source.
 */
export const ONE_PLACE_M = 0.005;
/** Metres in a degree of latitude, near enough for a rounding. */
const DEGREE_M = 111_320;

/** How far two forms of one place are apart, and what their digits leave unsaid, metres. */
export interface PlaceGap {
  readonly planM: number;
  readonly planUnsaidM: number;
  /** 0 where one of them has no height. */
  readonly upM: number;
  readonly upUnsaidM: number;
}

/**
 * Whether two forms of one place, such as a grid pair and a latitude and longitude, are one place: the one comparison of all
 * that is read.
 *
 * Given: see `PlaceGap`. Returned: null where they are one place; else how far they are apart, in words: `0.123 m apart` in
 * plan, or, where they agree there, `0.123 m apart in height`.
 */
export function placesApart({ planM, planUnsaidM, upM, upUnsaidM }: PlaceGap): string | null {
  if (planM > ONE_PLACE_M + planUnsaidM) return `${formatFixed(planM, 3)} m apart`;
  return upM > ONE_PLACE_M + upUnsaidM ? `${formatFixed(upM, 3)} m apart in height` : null;
}

/** What digits leave unsaid in plan, metres, of half a unit of the last digit of lengths, metres, and of angles, degrees. */
export function unsaidInPlanM(lengthM: number, angleDeg: number): number {
  return Math.SQRT2 * (lengthM + angleDeg * DEGREE_M);
}

/** How far two geodetic places are apart: straight through the ground at the height of the first, and in height, metres. */
export function geodeticGap(a: GeodeticPoint, b: GeodeticPoint, ellipsoid: Ellipsoid): Pick<PlaceGap, 'planM' | 'upM'> {
  const from = geodeticToGeocentric(a, ellipsoid);
  const to = geodeticToGeocentric({ ...b, ellipsoidalHeightM: a.ellipsoidalHeightM }, ellipsoid);
  return {
    planM: Math.hypot(to.xM - from.xM, to.yM - from.yM, to.zM - from.zM),
    upM: Math.abs(b.ellipsoidalHeightM - a.ellipsoidalHeightM),
  };
}
