import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlaneTransformation } from '../plane/similarity-2d.js';

/** Grid ↔ ground about one point. */
export interface GroundScale extends PlaneTransformation {
  readonly aboutFirst: number;
  readonly aboutSecond: number;
  readonly combinedFactor: number;
}

/**
 * Grid ↔ ground by one scale about one point. Coordinates of the point itself do not change, so
 * ground coordinates look like grid coordinates: say which they are wherever they are written.
 *
 * Given: grid pair of the point, in the system's axes and unit; its combined factor (point scale
 * factor × elevation factor; grid distance ÷ ground distance). Returned: `forward` from grid to
 * ground, p₀ + (p − p₀) / CF, and `inverse` from ground to grid, p₀ + (p − p₀) CF; same unit.
 * Errors: config-invalid-value where the pair is not finite or the factor not in 0.9…1.1.
 * Caution: right at that point and at its height only; `factorSpread` says how wrong elsewhere.
 * Reference: NOS-NGS-5, section on grid and ground distances.
 *
 * @example
 * // 2386.987 m at a height of 3 km are 2385.864 m at sea level: 6371 / 6374, a published exercise.
 * const scale = createGroundScale(0, 0, 6371 / 6374).value;
 * const pair = { first: 0, second: 0 };
 * scale.forward(2385.8635, 0, pair);
 * pair; // { first: 2386.987, second: 0 }
 */
export function createGroundScale(
  aboutFirst: number,
  aboutSecond: number,
  combinedFactor: number,
): Outcome<GroundScale> {
  if (!Number.isFinite(aboutFirst + aboutSecond) || !(combinedFactor >= 0.9 && combinedFactor <= 1.1)) {
    return failure(
      errorProblem('config-invalid-value', {
        message: `combined factor ${String(combinedFactor)} about ${String(aboutFirst)}, ${String(aboutSecond)} cannot be used`,
        expected: 'a finite grid pair and a factor between 0.9 and 1.1',
      }),
    );
  }
  return success({
    aboutFirst,
    aboutSecond,
    combinedFactor,
    forward(first, second, out) {
      out.first = aboutFirst + (first - aboutFirst) / combinedFactor;
      out.second = aboutSecond + (second - aboutSecond) / combinedFactor;
    },
    inverse(first, second, out) {
      out.first = aboutFirst + (first - aboutFirst) * combinedFactor;
      out.second = aboutSecond + (second - aboutSecond) * combinedFactor;
    },
  });
}
