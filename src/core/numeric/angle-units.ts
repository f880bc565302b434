/** Radians in one degree. */
export const RADIANS_PER_DEGREE: number = Math.PI / 180;

/** Degrees in one radian. */
export const DEGREES_PER_RADIAN: number = 180 / Math.PI;

/** Radians in one second of arc. */
export const RADIANS_PER_ARCSECOND: number = Math.PI / 648000;

/** Degrees to radians. Inverse: `radiansToDegrees`. */
export function degreesToRadians(angleDeg: number): number {
  return angleDeg * RADIANS_PER_DEGREE;
}

/** Radians to degrees. Inverse: `degreesToRadians`. */
export function radiansToDegrees(angleRad: number): number {
  return angleRad * DEGREES_PER_RADIAN;
}

/**
 * A longitude brought to −180…180 by whole turns. Values already there, both ends included, come
 * back unchanged, so a point on the 180th meridian keeps the sign it was given.
 *
 * Given and returned: degrees, east positive.
 */
export function normaliseLongitudeDeg(longitudeDeg: number): number {
  if (longitudeDeg >= -180 && longitudeDeg <= 180) return longitudeDeg;
  const turned = longitudeDeg % 360;
  if (turned > 180) return turned - 360;
  if (turned < -180) return turned + 360;
  return turned;
}

/**
 * A direction brought to 0…360, 360 itself excluded. Negative zero becomes zero, and a value so
 * little below zero that the sum rounds to 360 becomes zero.
 *
 * Given and returned: degrees, clockwise.
 */
export function normaliseAzimuthDeg(azimuthDeg: number): number {
  if (azimuthDeg > 0 && azimuthDeg < 360) return azimuthDeg;
  let turned = azimuthDeg % 360;
  if (turned < 0) turned += 360;
  return turned >= 360 || turned === 0 ? 0 : turned;
}
