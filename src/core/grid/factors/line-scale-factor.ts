/**
 * Line scale factor: length of a projected line over its length on the ellipsoid, by Simpson's rule.
 *
 * Given: point scale factors at the two ends and at the middle of the geodesic between them.
 * Returned: the mean scale along the line, no unit.
 * Notes: 1. The middle is that of the geodesic, not of the coordinates. 2. Over 60 km the error is
 * below 0.001 mm; the straight grid line between the ends is shorter than the projected geodesic by
 * up to 0.2 mm. The mean of the two ends alone would be wrong by 0.44 m on an east–west line.
 * Reference: GDA2020-TM, line scale factor, for the example; figures in docs/methods/line-quantities.md.
 */
export function lineScaleFactor(scaleFrom: number, scaleMiddle: number, scaleTo: number): number {
  return (scaleFrom + 4 * scaleMiddle + scaleTo) / 6;
}
