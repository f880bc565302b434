import type { LocalFrame } from '../ellipsoid/local-frame.js';
import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';
import type { Draft } from '../../records/draft.js';
import { emptyGeocentric } from '../ellipsoid/geocentric.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { TiltAzimuthConvention } from '../../records/session.js';

/** A pole as held: how long, how far from plumb, and which way. */
export interface PoleGeometry {
  /**
   * From the point the position belongs to down to the tip, metres along the pole. For a position at
   * the antenna phase centre that is the pole length plus the phase-centre offset.
   */
  readonly lengthM: number;
  /** Lean from the ellipsoid normal, degrees; null: not measured, held plumb. */
  readonly tiltDeg: number | null;
  /** Azimuth of the lean, degrees clockwise from true north; null only where the tilt is null or 0. */
  readonly tiltAzimuthDeg: number | null;
  /** Which way the azimuth points; null only where the tilt is null or 0. */
  readonly convention: TiltAzimuthConvention | null;
}

/** The pole's tip and the lever arm that led to it. */
export interface PoleReduction {
  readonly tip: GeocentricPoint;
  /** Tip minus top, metres. */
  readonly leverEastM: number;
  readonly leverNorthM: number;
  readonly leverUpM: number;
}

/**
 * Carries a position from the top of a pole to its tip.
 *
 * With θ the lean from the ellipsoid normal, α the azimuth of the top seen from the tip and L the
 * length, top − tip = L (sin θ sin α, sin θ cos α, cos θ) in east, north, up; the lever arm is its
 * negative, turned to geocentric axes at the top.
 *
 * Given: top, geocentric metres; frame, the local frame at the top; pole.
 * Returned: the tip, geocentric metres, and tip − top in the local frame.
 *
 * Notes:
 * 1. Under `tip-from-top` the azimuth is that of the tip seen from the top, so α = azimuth + 180°.
 * 2. A tilt above 0 needs an azimuth and a convention; the caller refuses the row before this. A
 *    missing azimuth is read as 0 and a missing convention as `top-from-tip`.
 * 3. The pole is reckoned from the ellipsoid normal. A bubble follows the plumb line: 30″ of
 *    deflection move the tip of a 2 m pole by 0.3 mm, which is neglected.
 *
 * Reference: rotation to geocentric axes, IOGP-373-7-2, EPSG method 9837. The lever arm is plain
 * trigonometry. Uncertainty: `poleCovariance`.
 *
 * @example
 * // A plumb pole of 2 m where the equator meets the zero meridian.
 * const pole = { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null };
 * reducePole({ xM: 6378139, yM: 0, zM: 0 }, localFrameAt(0, 0), pole).tip; // { xM: 6378137, yM: 0, zM: 0 }
 */
export function reducePole(top: GeocentricPoint, frame: LocalFrame, pole: PoleGeometry): PoleReduction {
  const { lengthM, tiltDeg } = pole;
  const { sinLat, cosLat, sinLon, cosLon } = frame;
  if (tiltDeg === null || tiltDeg === 0)
    return { tip: plumbTip(top, frame, lengthM), leverEastM: 0, leverNorthM: 0, leverUpM: -lengthM };
  const tilt = tiltDeg * RADIANS_PER_DEGREE;
  // A tilt without its azimuth was refused with its row.
  const azimuth = (pole.tiltAzimuthDeg ?? 0) * RADIANS_PER_DEGREE;
  // Under top-from-tip the tip lies opposite to the azimuth.
  const reach = (pole.convention === 'tip-from-top' ? 1 : -1) * lengthM * Math.sin(tilt);
  const east = reach * Math.sin(azimuth);
  const north = reach * Math.cos(azimuth);
  const up = -lengthM * Math.cos(tilt);
  const outward = up * cosLat - north * sinLat;
  return {
    tip: {
      xM: top.xM + outward * cosLon - east * sinLon,
      yM: top.yM + outward * sinLon + east * cosLon,
      zM: top.zM + north * cosLat + up * sinLat,
    },
    leverEastM: east,
    leverNorthM: north,
    leverUpM: up,
  };
}

/** The tip of a plumb pole so many metres below its top, of which `frame` is the local frame; geocentric metres. `tip`: a record to be filled. */
export function plumbTip(
  top: GeocentricPoint,
  { sinLat, cosLat, sinLon, cosLon }: LocalFrame,
  lengthM: number,
  tip: Draft<GeocentricPoint> = emptyGeocentric(),
): GeocentricPoint {
  const outward = lengthM * cosLat;
  tip.xM = top.xM - outward * cosLon;
  tip.yM = top.yM - outward * sinLon;
  tip.zM = top.zM - lengthM * sinLat;
  return tip;
}
