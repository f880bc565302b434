import type { PlanePoint } from '../adjustment/convex-hull.js';
import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';

/** What heights follow as a whole: the richer after the simpler. */
export type HeightTrend = 'offset' | 'plane' | 'four-parameter' | 'five-parameter';

export const HEIGHT_TRENDS: readonly HeightTrend[] = ['offset', 'plane', 'four-parameter', 'five-parameter'];

/** Where a trend is written about. */
export interface TrendFrame {
  readonly origin: PlanePoint;
  /** Of the origin. */
  readonly latitudeDeg: number;
  /** Of the plane there: grid north is east of true north by it. */
  readonly convergenceDeg: number;
}

/** The mean radius of the Earth, km; a trend does not feel it beyond the third digit. */
const RADIUS_KM = 6371;

const SIZES: Readonly<Record<HeightTrend, number>> = { offset: 1, plane: 3, 'four-parameter': 4, 'five-parameter': 5 };

/** How many coefficients a trend has. */
export function trendSize(trend: HeightTrend): number {
  return SIZES[trend];
}

/**
 * The functions of a trend at a place: its row of A.
 *
 * `plane` is 1, x, y in km of the plane from the origin. `four-parameter` is what 1, cos φ cos λ, cos φ sin λ and sin φ span on a
 * sphere, written about the origin so that its numbers can be read: 1, east, north in km and the bowl 2R²(1 − cos of the angle
 * from the origin) in km². `five-parameter` has sin² φ beside them, as R²(sin φ − sin φ₀)², km², which spans the same. Latitude is
 * that of a sphere laid to the plane at the origin: some metres from the true one in 60 km, which a trend does not feel.
 *
 * Given: the trend, its frame, the place. Returned: `trendSize` numbers. Reference: KOTSAKIS-SIDERIS-1999 (from memory).
 */
export function trendRow(trend: HeightTrend, frame: TrendFrame, place: PlanePoint): readonly number[] {
  const x = (place.eastM - frame.origin.eastM) / 1000;
  const y = (place.northM - frame.origin.northM) / 1000;
  if (trend === 'offset') return [1];
  if (trend === 'plane') return [1, x, y];
  const turn = frame.convergenceDeg * RADIANS_PER_DEGREE;
  // Of a line from the origin: its grid bearing plus the convergence is its azimuth.
  const east = x * Math.cos(turn) + y * Math.sin(turn);
  const north = y * Math.cos(turn) - x * Math.sin(turn);
  const distance = Math.hypot(east, north);
  const angle = 2 * Math.atan(distance / (2 * RADIUS_KM));
  const sin = Math.sin(angle);
  const [e, n] = distance === 0 ? [0, 0] : [(sin * east) / distance, (sin * north) / distance];
  // 1 − cos of a small angle, without losing its digits.
  const bowl = 4 * RADIUS_KM * RADIUS_KM * Math.sin(angle / 2) ** 2;
  const row = [1, RADIUS_KM * e, RADIUS_KM * n, bowl];
  if (trend === 'four-parameter') return row;
  const latitude = frame.latitudeDeg * RADIANS_PER_DEGREE;
  const rise = n * Math.cos(latitude) - (bowl / (2 * RADIUS_KM * RADIUS_KM)) * Math.sin(latitude);
  return [...row, (RADIUS_KM * rise) ** 2];
}
