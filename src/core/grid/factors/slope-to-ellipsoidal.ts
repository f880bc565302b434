import { failure, success, type Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { clampedAsin } from '../../numeric/clamped.js';

/**
 * Length on the ellipsoid from a slope length between two marks.
 *
 * Given, metres: the straight slope length, mark to mark; heights of the marks above the ellipsoid;
 * radius of the ellipsoid in the direction of the line at its middle (`eulerRadiusM`).
 * Returned: metres along the ellipsoid. Problems: value-out-of-range when the slope length is
 * shorter than the difference of heights.
 * Notes: 1. The line is taken as a circle's arc; with Euler's radius that costs at most 0.13 mm over
 * 60 km, with the mean radius up to 12 mm. 2. Orthometric heights in place of ellipsoidal ones would
 * cost 4.7 parts per million for each 30 m of geoid height.
 * Reference: GDA2020-TM, reduction of measured distances; docs/methods/line-quantities.md.
 */
export function slopeToEllipsoidal(
  slopeDistanceM: number,
  heightFromM: number,
  heightToM: number,
  radiusM: number,
): Outcome<number> {
  const difference = Math.abs(heightToM - heightFromM);
  if (!(slopeDistanceM >= difference)) {
    return failure(
      errorProblem('value-out-of-range', {
        message: `a slope distance of ${String(slopeDistanceM)} m cannot join marks that differ by ${String(difference)} m in height`,
        received: String(slopeDistanceM),
        expected: `at least ${String(difference)} m`,
      }),
    );
  }
  const level = (slopeDistanceM - difference) * (slopeDistanceM + difference);
  const chordM = Math.sqrt(level / ((1 + heightFromM / radiusM) * (1 + heightToM / radiusM)));
  return success(2 * radiusM * clampedAsin(chordM / (2 * radiusM)));
}
