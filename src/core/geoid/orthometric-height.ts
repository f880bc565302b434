/*
 * The one place with h = H + N: ellipsoidal height h, orthometric height H, geoid height N, all in
 * metres and positive upwards. The angle between the ellipsoid's normal and the plumb line is left
 * out, which costs less than 0.1 mm in height for deflections of 20" and heights of 10 km
 * (H(1 − cos 20") = 0.05 mm).
 */

/**
 * Orthometric height H = h − N.
 *
 * Given: ellipsoidal height and geoid height, metres. Returned: metres.
 * The height belongs to the geoid model's own level: a quasigeoid gives normal heights.
 * Inverse: `ellipsoidalHeightM`.
 *
 * @example
 * orthometricHeightM(1043.2, 31.7); // 1011.5
 */
export function orthometricHeightM(ellipsoidalHeightM: number, geoidHeightM: number): number {
  return ellipsoidalHeightM - geoidHeightM;
}

/**
 * Ellipsoidal height h = H + N.
 *
 * Given: orthometric height and geoid height, metres. Returned: metres.
 * Inverse: `orthometricHeightM`.
 *
 * @example
 * ellipsoidalHeightM(1011.5, 31.7); // 1043.2
 */
export function ellipsoidalHeightM(orthometricHeightM: number, geoidHeightM: number): number {
  return orthometricHeightM + geoidHeightM;
}
