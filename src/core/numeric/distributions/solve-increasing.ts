import { InternalError } from '../../../records/internal-error.js';

/** Value and slope of a function at a place. */
export interface ValueAndSlope {
  readonly value: number;
  readonly slope: number;
}

/**
 * Where an increasing function is 0: Newton's steps, kept between the places known to lie on either
 * side, halved when they leave them.
 *
 * Given: the function with its slope; a start; a place known to be at or below the root, if any.
 * Returned: the root, to the last digits the function allows.
 * Errors: InternalError when 400 steps do not find it.
 */
export function solveIncreasing(at: (y: number) => ValueAndSlope, start: number, below: number = -Infinity): number {
  let low = below;
  let high = Infinity;
  let y = start;
  let reach = 1;
  for (let turn = 0; turn < 400; turn += 1) {
    const { value, slope } = at(y);
    if (value === 0) return y;
    if (value < 0) low = y;
    else high = y;
    let next = slope > 0 ? y - value / slope : NaN;
    const inside = next > low && next < high;
    if (Math.abs(next - y) <= 2e-16 * Math.max(1, Math.abs(y))) return inside ? next : y;
    if (low === -Infinity || high === Infinity) {
      // One side is unknown yet: never go farther than twice the last reach.
      const direction = value < 0 ? 1 : -1;
      if (!(inside && Math.abs(next - y) <= reach)) next = y + direction * reach;
      reach *= 2;
    } else if (!inside) next = low + (high - low) / 2;
    if (high - low <= 4e-16 * Math.max(1, Math.abs(y))) return y;
    y = next;
  }
  throw new InternalError('a quantile did not settle');
}
