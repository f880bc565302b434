import type { PositionalSummary } from '../../records/points/reduced-point.js';

/** Axes of an ellipse that differ by less cannot be told apart as they are written, metres. */
const AS_WRITTEN_M = 1e-4;

/** Where the longer axis of an ellipse points; null: as written it is a circle or nothing, and the azimuth is rounding. */
export function ellipseAzimuthDeg({
  ellipseMajor95M,
  ellipseMinor95M,
  ellipseAzimuthDeg: azimuthDeg,
}: PositionalSummary): number | null {
  return ellipseMajor95M - ellipseMinor95M < AS_WRITTEN_M ? null : azimuthDeg;
}
