/**
 * Arc-to-chord correction at one end of a line, from the identity that defines it:
 * grid bearing of the projected geodesic + correction = bearing of the straight grid line.
 *
 * Given, degrees: azimuth of the geodesic at the end, towards the other end; convergence at the end
 * (positive where grid north is east of true north); bearing of the straight grid line from the same
 * end, from grid north. Returned: seconds of arc, −648000…648000.
 * Notes: 1. It holds for every projection and has no terms left out; the usual short formula of
 * transverse Mercator differs from it by about 0.01″ at 60 km. 2. Rounding leaves some 0.0002″ on a
 * line of 1 m, and less in proportion to length on longer ones.
 * Reference: GDA2020-TM, arc-to-chord correction; docs/methods/line-quantities.md.
 */
export function arcToChordArcsec(azimuthDeg: number, convergenceDeg: number, gridBearingDeg: number): number {
  let differenceDeg = (gridBearingDeg - azimuthDeg + convergenceDeg) % 360;
  if (differenceDeg > 180) differenceDeg -= 360;
  if (differenceDeg < -180) differenceDeg += 360;
  return differenceDeg * 3600;
}
