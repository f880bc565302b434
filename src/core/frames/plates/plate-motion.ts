import { GRS80 } from '../../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic } from '../../ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt, localToGeocentric } from '../../ellipsoid/local-frame.js';
import { RADIANS_PER_ARCSECOND } from '../../numeric/angle-units.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { OriginRate } from './plate-models.js';
import type { PlatePole } from './plate-pole.js';

const RADIANS_PER_MAS: number = RADIANS_PER_ARCSECOND / 1000;

/** A velocity in a geocentric frame, metres per year. */
export interface GeocentricVelocity {
  readonly xMPerYear: number;
  readonly yMPerYear: number;
  readonly zMPerYear: number;
}

/**
 * Velocity of a point carried by a plate, ω × X, with the horizontal part of the model's origin rate where it has one.
 *
 * Given: X, Y, Z, metres; pole. Returned: velocity in the pole's frame, metres per year.
 * Reference: ITRF2014-PMM, equation for the horizontal velocity of a rigid plate; ITRF2020-PMM for the origin rate.
 */
export function plateVelocity(point: GeocentricPoint, pole: PlatePole): GeocentricVelocity {
  const wx = pole.omegaXMasPerYear * RADIANS_PER_MAS;
  const wy = pole.omegaYMasPerYear * RADIANS_PER_MAS;
  const wz = pole.omegaZMasPerYear * RADIANS_PER_MAS;
  const rate = pole.originRate === null ? NO_RATE : horizontalPart(pole.originRate, point);
  return {
    xMPerYear: wy * point.zM - wz * point.yM + rate.xMPerYear,
    yMPerYear: wz * point.xM - wx * point.zM + rate.yMPerYear,
    zMPerYear: wx * point.yM - wy * point.xM + rate.zMPerYear,
  };
}

const NO_RATE: GeocentricVelocity = { xMPerYear: 0, yMPerYear: 0, zMPerYear: 0 };

/** The part of a rate that is level at a place, on the normal of GRS 80; what is left over is vertical. */
function horizontalPart(
  { xMmPerYear, yMmPerYear, zMmPerYear }: OriginRate,
  point: GeocentricPoint,
): GeocentricVelocity {
  const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(point, GRS80);
  const frame = localFrameAt(latitudeDeg, longitudeDeg);
  const whole = { xM: xMmPerYear / 1000, yM: yMmPerYear / 1000, zM: zMmPerYear / 1000 };
  const level = localToGeocentric(frame, { ...geocentricToLocal(frame, whole), upM: 0 });
  return { xMPerYear: level.xM, yMPerYear: level.yM, zMPerYear: level.zM };
}

/**
 * A point carried along its plate from one year to another, with the horizontal part of the model's origin rate where it has one.
 *
 * Given: X, Y, Z in the pole's frame at `fromYear`, metres; pole; the two epochs, decimal years.
 * Returned: X, Y, Z at `toYear`, metres.
 *
 * Note: the turn is taken about the pole as a whole (Rodrigues), so that there and back is exact.
 * Its first term is X + (ω × X)(t₂ − t₁); the rest is below 1 µm over 35 years. An origin rate is level where the point is
 * half way, so that it too comes back.
 *
 * Errors: none; the caller has checked that the numbers are finite.
 * Reference: ITRF2014-PMM, ITRF2020-PMM. Inverse: the same function with the years exchanged.
 *
 * @example
 * // Where X is 6378137 m and ω is (-0.085, -0.531, 0.770) mas a year, ω × X is 23.8 and 16.4 mm a year in Y and Z.
 * const eurasia = platePole('EURA').value;
 * movePoint({ xM: 6378137, yM: 0, zM: 0 }, eurasia, 2010, 2020); // { xM: 6378137.0000, yM: 0.2381, zM: 0.1642 }
 */
export function movePoint(point: GeocentricPoint, pole: PlatePole, fromYear: number, toYear: number): GeocentricPoint {
  const years = toYear - fromYear;
  if (pole.originRate === null) return turned(point, pole, years);
  const middle = turned(point, pole, years / 2);
  return turned(moveByVelocity(middle, horizontalPart(pole.originRate, middle), fromYear, toYear), pole, years / 2);
}

/** A point turned about a pole for some years. */
function turned(point: GeocentricPoint, pole: PlatePole, years: number): GeocentricPoint {
  const turn = years * RADIANS_PER_MAS;
  const ax = pole.omegaXMasPerYear * turn;
  const ay = pole.omegaYMasPerYear * turn;
  const az = pole.omegaZMasPerYear * turn;
  const squared = ax * ax + ay * ay + az * az;
  if (squared === 0) return point;
  const angle = Math.sqrt(squared);
  const s = Math.sin(angle) / angle;
  const half = Math.sin(angle / 2) / angle;
  const c = 2 * half * half;
  // u = a × X; X′ = X + s u + c (a × u).
  const ux = ay * point.zM - az * point.yM;
  const uy = az * point.xM - ax * point.zM;
  const uz = ax * point.yM - ay * point.xM;
  return {
    xM: point.xM + s * ux + c * (ay * uz - az * uy),
    yM: point.yM + s * uy + c * (az * ux - ax * uz),
    zM: point.zM + s * uz + c * (ax * uy - ay * ux),
  };
}

/**
 * A point moved by its own velocity from one year to another.
 *
 * Given: X, Y, Z at `fromYear`, metres; velocity, metres per year; the two epochs, decimal years.
 * Returned: X, Y, Z at `toYear`, metres. Inverse: the same function with the years exchanged.
 */
export function moveByVelocity(
  point: GeocentricPoint,
  velocity: GeocentricVelocity,
  fromYear: number,
  toYear: number,
): GeocentricPoint {
  const dt = toYear - fromYear;
  return {
    xM: point.xM + velocity.xMPerYear * dt,
    yM: point.yM + velocity.yMPerYear * dt,
    zM: point.zM + velocity.zMPerYear * dt,
  };
}
