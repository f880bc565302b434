/**
 * Slope length between two marks over an arc of a circle: the law of cosines in the triangle of the
 * centre and the two marks, written so that nothing cancels.
 *
 * Given, metres: the arc on the circle, the heights of the marks above it, its radius.
 */
export function slopeByCosines(arcM: number, heightFromM: number, heightToM: number, radiusM: number): number {
  const a = radiusM + heightFromM;
  const b = radiusM + heightToM;
  const halfAngle = arcM / radiusM / 2;
  return Math.hypot(a - b, 2 * Math.sqrt(a * b) * Math.sin(halfAngle));
}
