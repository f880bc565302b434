/** A symmetric 3×3 matrix. */
export interface Symmetric3 {
  readonly xx: number;
  readonly xy: number;
  readonly xz: number;
  readonly yy: number;
  readonly yz: number;
  readonly zz: number;
}

/** Any 3×3 matrix; the first letter is the row. */
export interface Matrix3 {
  readonly xx: number;
  readonly xy: number;
  readonly xz: number;
  readonly yx: number;
  readonly yy: number;
  readonly yz: number;
  readonly zx: number;
  readonly zy: number;
  readonly zz: number;
}

/**
 * A C Aᵀ: the covariance C carried through the linear map A.
 *
 * Given: A; C. Returned: the product, symmetric by construction.
 */
export function congruence3(a: Matrix3, c: Symmetric3): Symmetric3 {
  const x1 = a.xx * c.xx + a.xy * c.xy + a.xz * c.xz;
  const x2 = a.xx * c.xy + a.xy * c.yy + a.xz * c.yz;
  const x3 = a.xx * c.xz + a.xy * c.yz + a.xz * c.zz;
  const y1 = a.yx * c.xx + a.yy * c.xy + a.yz * c.xz;
  const y2 = a.yx * c.xy + a.yy * c.yy + a.yz * c.yz;
  const y3 = a.yx * c.xz + a.yy * c.yz + a.yz * c.zz;
  const z1 = a.zx * c.xx + a.zy * c.xy + a.zz * c.xz;
  const z2 = a.zx * c.xy + a.zy * c.yy + a.zz * c.yz;
  const z3 = a.zx * c.xz + a.zy * c.yz + a.zz * c.zz;
  return {
    xx: x1 * a.xx + x2 * a.xy + x3 * a.xz,
    xy: x1 * a.yx + x2 * a.yy + x3 * a.yz,
    xz: x1 * a.zx + x2 * a.zy + x3 * a.zz,
    yy: y1 * a.yx + y2 * a.yy + y3 * a.yz,
    yz: y1 * a.zx + y2 * a.zy + y3 * a.zz,
    zz: z1 * a.zx + z2 * a.zy + z3 * a.zz,
  };
}

/** Filled and read again at once: an array for each matrix costs more than its inverse. */
const NINE = new Float64Array(9);

/** Inverse of a symmetric 3×3 matrix, in the inverse unit; null when it is singular in double precision. */
export function inverse3(m: Symmetric3): Symmetric3 | null {
  const into = NINE;
  if (!invertInto3(m, into, 0)) return null;
  return { xx: into[0]!, xy: into[1]!, xz: into[2]!, yy: into[4]!, yz: into[5]!, zz: into[8]! };
}

/** The same, all nine numbers row by row into an array from a place on; false, and nothing is written, when it is singular. */
export function invertInto3({ xx, xy, xz, yy, yz, zz }: Symmetric3, into: Float64Array, at: number): boolean {
  const cxx = yy * zz - yz * yz;
  const cxy = xz * yz - xy * zz;
  const cxz = xy * yz - xz * yy;
  const determinant = xx * cxx + xy * cxy + xz * cxz;
  const size =
    Math.abs(xx) * (Math.abs(yy * zz) + yz * yz) +
    Math.abs(xy) * (Math.abs(xz * yz) + Math.abs(xy * zz)) +
    Math.abs(xz) * (Math.abs(xy * yz) + Math.abs(xz * yy));
  if (Math.abs(determinant) <= 8 * Number.EPSILON * size) return false;
  into[at] = cxx / determinant;
  into[at + 1] = cxy / determinant;
  into[at + 2] = cxz / determinant;
  into[at + 3] = into[at + 1]!;
  into[at + 4] = (xx * zz - xz * xz) / determinant;
  into[at + 5] = (xy * xz - xx * yz) / determinant;
  into[at + 6] = into[at + 2]!;
  into[at + 7] = into[at + 5]!;
  into[at + 8] = (xx * yy - xy * xy) / determinant;
  return true;
}

/**
 * xᵀ C⁻¹ x: the squared distance of a vector in units of the covariance C.
 *
 * Given: C; x, y, z in the root of its unit. Returned: dimensionless; null when C is singular.
 */
export function quadraticForm3(c: Symmetric3, x: number, y: number, z: number): number | null {
  const i = inverse3(c);
  if (i === null) return null;
  return i.xx * x * x + i.yy * y * y + i.zz * z * z + 2 * (i.xy * x * y + i.xz * x * z + i.yz * y * z);
}
