/** A symmetric 2×2 matrix. */
export interface Symmetric2 {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

export interface Eigen2 {
  readonly larger: number;
  readonly smaller: number;
  /** Direction of the axis of the larger value, radians from x towards y, −π/2…π/2. */
  readonly angleRad: number;
}

/**
 * Principal values and axis of a symmetric 2×2 matrix.
 *
 * Given: the matrix. Returned: both values, the larger first, in the unit of the matrix, and the
 * direction of the first; direction 0 where the values are equal and none is preferred.
 * Method: mean ± half the difference of the axes, θ = ½ atan2(2xy, xx − yy).
 */
export function eigen2(m: Symmetric2): Eigen2 {
  const centre = m.xx / 2 + m.yy / 2;
  const half = m.xx / 2 - m.yy / 2;
  const radius = Math.hypot(half, m.xy);
  return {
    larger: centre + radius,
    smaller: centre - radius,
    angleRad: radius === 0 ? 0 : Math.atan2(m.xy, half) / 2,
  };
}

/**
 * Determinant, or null where it cannot be told from 0 in double precision.
 */
function determinant2(m: Symmetric2): number | null {
  const a = m.xx * m.yy;
  const b = m.xy * m.xy;
  const determinant = a - b;
  return Math.abs(determinant) <= 4 * Number.EPSILON * (Math.abs(a) + b) ? null : determinant;
}

/** Inverse of a symmetric 2×2 matrix, in the inverse unit; null when it is singular. */
export function inverse2(m: Symmetric2): Symmetric2 | null {
  const d = determinant2(m);
  return d === null ? null : { xx: m.yy / d, xy: -m.xy / d, yy: m.xx / d };
}

/**
 * xᵀ C⁻¹ x: the squared distance of a vector in units of the covariance C.
 *
 * Given: C; x and y in the root of its unit. Returned: dimensionless; null when C is singular.
 */
export function quadraticForm2(c: Symmetric2, x: number, y: number): number | null {
  const d = determinant2(c);
  return d === null ? null : (c.yy * x * x - 2 * c.xy * x * y + c.xx * y * y) / d;
}
