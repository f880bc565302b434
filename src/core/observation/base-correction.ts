import { geocentricToLocal } from '../ellipsoid/local-frame.js';
import { emptyGeocentric } from '../ellipsoid/geocentric.js';
import type { LocalFrame } from '../ellipsoid/local-frame.js';
import type { Draft } from '../../records/draft.js';
import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';
import type { GeocentricPoint, LocalVector } from '../../records/points/point.js';

/** What carries rover positions from the base coordinate that was broadcast to the one that is known. */
export interface BaseCorrection {
  /** Known minus broadcast, geocentric metres: add it to every rover position. */
  readonly translation: GeocentricPoint;
  readonly magnitudeM: number;
  /** The same vector in east, north, up at the base, for people to read. Never add these at a rover. */
  readonly local: LocalVector;
}

/** The base coordinates used, both at the antenna reference point, in one frame and at one epoch. */
export interface BasePositions {
  readonly broadcastArp: GeocentricPoint;
  readonly knownArp: GeocentricPoint;
}

/**
 * The correction for a base that broadcast another coordinate than its own.
 *
 * A fixed solution measures the geocentric vector from the base's antenna to the rover's. Replacing
 * the base coordinate therefore moves every rover by the same geocentric vector Δ = known − broadcast,
 * and by nothing that is the same in grid, geodetic or local components.
 *
 * Given: both base positions at the antenna reference point, geocentric metres; the local frame at
 * the base. Returned: Δ, its length and its local components.
 *
 * Notes:
 * 1. What the translation cannot mend is bounded by `irreducibleResidualM`.
 * 2. The inverse is the correction with the two positions exchanged.
 *
 * Reference: vector addition; see docs/methods/base-correction.md for the derivation.
 *
 * @example
 * const positions = { broadcastArp: { xM: 1, yM: 1, zM: 1 }, knownArp: { xM: 4, yM: 5, zM: 1 } };
 * baseCorrection(positions, localFrameAt(0, 0)).magnitudeM; // 5
 */
export function baseCorrection(positions: BasePositions, frameAtBase: LocalFrame): BaseCorrection {
  const { broadcastArp, knownArp } = positions;
  const translation: GeocentricPoint = {
    xM: knownArp.xM - broadcastArp.xM,
    yM: knownArp.yM - broadcastArp.yM,
    zM: knownArp.zM - broadcastArp.zM,
  };
  return {
    translation,
    magnitudeM: Math.hypot(translation.xM, translation.yM, translation.zM),
    local: geocentricToLocal(frameAtBase, translation),
  };
}

/**
 * Adds a base correction to a rover position; geocentric metres. `moved`: a record to be filled.
 *
 * @example
 * translate({ xM: 10, yM: 20, zM: 30 }, { xM: 3, yM: 4, zM: 0 }); // { xM: 13, yM: 24, zM: 30 }
 */
export function translate(
  point: GeocentricPoint,
  translation: GeocentricPoint,
  moved: Draft<GeocentricPoint> = emptyGeocentric(),
): GeocentricPoint {
  moved.xM = point.xM + translation.xM;
  moved.yM = point.yM + translation.yM;
  moved.zM = point.zM + translation.zM;
  return moved;
}

/**
 * The error avoided by translating in geocentric axes instead of adding the base's local, geodetic or
 * grid differences at the rover: |Δ|·d/(R·cos φ), the worst over all directions of Δ and of the
 * baseline to first order in d/R (within 0.01 % at 60 km and 60° latitude).
 *
 * Given: |Δ| and baseline d, metres; latitude of the base, degrees; Gauss mean radius R there, metres.
 * Returned: metres, never more than 2|Δ|, which no rotation of Δ can exceed.
 *
 * Reference: derived in docs/methods/base-correction.md, "What the shortcuts cost".
 */
export function shortcutErrorM(
  magnitudeM: number,
  baselineM: number,
  latitudeDeg: number,
  gaussRadiusM: number,
): number {
  const cosLatitude = Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
  const largest = 2 * magnitudeM;
  return Math.min(largest, (magnitudeM * baselineM) / gaussRadiusM / cosLatitude);
}

/** Bend of a vector per metre of base error and metre of baseline; see `irreducibleResidualM`. */
export const RESIDUAL_PER_METRE_SQUARED = 0.063e-6;

/**
 * What a wrong base coordinate may have done to the vector itself while it was measured. No coordinate
 * operation removes it: 0.063 ppm of the baseline per metre of base error.
 *
 * Given: |Δ| and baseline d, metres. Returned: metres.
 *
 * Notes: a planning limit, not a strict bound. In a simulated sky of 78 satellites about 95 % of
 * moments and baselines stay below it for the worst direction of Δ; the worst of all reached 0.092 ppm.
 *
 * Reference: simulation of satellite geometry, docs/methods/base-correction.md, "What remains"; not
 * below the rule of 1 ppm for 20 m, RIZOS-1999, section 6.2.6.
 */
export function irreducibleResidualM(magnitudeM: number, baselineM: number): number {
  return RESIDUAL_PER_METRE_SQUARED * magnitudeM * baselineM;
}
