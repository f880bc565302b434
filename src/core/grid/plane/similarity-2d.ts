import { RADIANS_PER_ARCSECOND } from '../../numeric/angle-units.js';
import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GridPair } from '../systems/grid-system.js';

/** Parameters of EPSG method 9621. */
export interface Similarity2dParameters {
  /** Target coordinates of the source's origin, in the target's unit. */
  readonly first0: number;
  readonly second0: number;
  /** Length in the target of one unit of the source. */
  readonly scale: number;
  /** Rotation θ of the source axes, clockwise, to the target axes, seconds of arc. */
  readonly rotationArcsec: number;
}

/** A plane transformation made ready; writes its answer into `out`. */
export interface PlaneTransformation {
  readonly forward: (first: number, second: number, out: GridPair) => void;
  readonly inverse: (first: number, second: number, out: GridPair) => void;
}

/**
 * Similarity transformation in the plane (EPSG method 9621).
 *
 * Given: parameters; the first coordinate runs east and the second north in both systems.
 * Returned: forward X_t = X₀ + M (X cos θ + Y sin θ), Y_t = Y₀ + M (Y cos θ − X sin θ), and its
 * inverse. Errors: config-invalid-value where a parameter is not finite or the scale not positive.
 * Reference: IOGP-373-7-2, EPSG method 9621. Inverse: the `inverse` it returns.
 */
export function createSimilarity2d(parameters: Similarity2dParameters): Outcome<PlaneTransformation> {
  const { first0, second0, scale, rotationArcsec } = parameters;
  if (!(scale > 0) || !Number.isFinite(first0 + second0 + scale + rotationArcsec)) {
    return failure(
      errorProblem('config-invalid-value', {
        message: 'a similarity needs finite parameters and a scale above 0',
        received: `scale ${String(scale)}, rotation ${String(rotationArcsec)}`,
      }),
    );
  }
  const theta = rotationArcsec * RADIANS_PER_ARCSECOND;
  const cosine = Math.cos(theta);
  const sine = Math.sin(theta);
  return success({
    forward(first, second, out) {
      out.first = first0 + scale * (first * cosine + second * sine);
      out.second = second0 + scale * (second * cosine - first * sine);
    },
    inverse(first, second, out) {
      const x = first - first0;
      const y = second - second0;
      out.first = (x * cosine - y * sine) / scale;
      out.second = (x * sine + y * cosine) / scale;
    },
  });
}
