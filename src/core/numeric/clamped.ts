/**
 * Arc sine that forgives the last bit: an argument a rounding error beyond ±1 counts as ±1.
 *
 * Given: a sine (dimensionless). Returned: angle, radians, −π/2…π/2. Inverse: `Math.sin`.
 */
export function clampedAsin(sine: number): number {
  return sine >= 1 ? Math.PI / 2 : sine <= -1 ? -Math.PI / 2 : Math.asin(sine);
}

/**
 * Square root that forgives the last bit: a small negative argument counts as 0. For use where the
 * argument cannot be negative but for rounding, such as a difference of nearly equal squares.
 *
 * Given and returned: any unit squared, and its root.
 */
export function clampedSqrt(square: number): number {
  return square <= 0 ? 0 : Math.sqrt(square);
}
