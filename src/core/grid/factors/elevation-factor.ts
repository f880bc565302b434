/**
 * Elevation factor: length on the ellipsoid over length at a height, R / (R + h).
 *
 * Given: radius of the ellipsoid at the place (along a line: in its direction), metres; height above
 * the ellipsoid, metres, never an orthometric height, which is wrong here by N / R (4.7 parts per
 * million for each 30 m of geoid height). Returned: the factor, no unit.
 * Reference: NOS-NGS-5, reduction of distances to the ellipsoid.
 *
 * @example
 * // TW-EXAM-104070, question 4: 2386.987 m at 3 km is 2385.864 m at sea level.
 * 2386.987 * elevationFactor(6371000, 3000); // 2385.864
 */
export function elevationFactor(radiusM: number, ellipsoidalHeightM: number): number {
  return radiusM / (radiusM + ellipsoidalHeightM);
}

/**
 * Combined factor: grid length over length on the ground, point or line scale factor times
 * elevation factor. Ground length = grid length / combined factor.
 *
 * @example
 * // A point scale factor of 0.9996 at 3 km.
 * combinedFactor(0.9996, elevationFactor(6371000, 3000)); // 0.9991295
 */
export function combinedFactor(scaleFactor: number, elevation: number): number {
  return scaleFactor * elevation;
}
