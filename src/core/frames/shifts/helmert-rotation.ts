import type { RotationConvention } from './shift-definition.js';

/** A 3×3 matrix, entry m(row)(column). */
export interface Matrix3 {
  readonly m11: number;
  readonly m12: number;
  readonly m13: number;
  readonly m21: number;
  readonly m22: number;
  readonly m23: number;
  readonly m31: number;
  readonly m32: number;
  readonly m33: number;
}

/**
 * The rotation matrix of a Helmert transformation, times (1 + s).
 *
 * Given: rotations about X, Y, Z, radians; the scale factor 1 + s; the convention that gives the
 * rotations their sign; whether to use the full matrix. Returned: the matrix that multiplies X.
 *
 * Notes.
 * 1. The small-angle form is the one the registry prints. For the coordinate frame it is
 *    [1, rz, −ry; −rz, 1, rx; ry, −rx, 1]; for the position vector its transpose.
 * 2. The full form for the coordinate frame is R₃(rz) R₂(ry) R₁(rx), as in EPSG methods 1132, 1133
 *    and 1140; for the position vector its transpose. Rotations of one frame about axes taken in
 *    another order differ from it by about the product of two rotations.
 * 3. The two forms differ by about r² R/2 or less: 0.15 mm at 1″, 15 mm at 10″.
 *
 * Reference: IOGP-373-7-2, Helmert 7-parameter transformations. Inverse: `invertMatrix3`.
 */
export function helmertRotation(
  rxRad: number,
  ryRad: number,
  rzRad: number,
  scale: number,
  convention: RotationConvention,
  full: boolean,
): Matrix3 {
  const frame = full ? fullFrameRotation(rxRad, ryRad, rzRad, scale) : smallFrameRotation(rxRad, ryRad, rzRad, scale);
  return convention === 'coordinate-frame' ? frame : transposeMatrix3(frame);
}

function smallFrameRotation(rx: number, ry: number, rz: number, k: number): Matrix3 {
  return {
    m11: k,
    m12: k * rz,
    m13: -k * ry,
    m21: -k * rz,
    m22: k,
    m23: k * rx,
    m31: k * ry,
    m32: -k * rx,
    m33: k,
  };
}

function fullFrameRotation(rx: number, ry: number, rz: number, k: number): Matrix3 {
  const [sx, cx] = [Math.sin(rx), Math.cos(rx)];
  const [sy, cy] = [Math.sin(ry), Math.cos(ry)];
  const [sz, cz] = [Math.sin(rz), Math.cos(rz)];
  return {
    m11: k * cz * cy,
    m12: k * (sz * cx + cz * sy * sx),
    m13: k * (sz * sx - cz * sy * cx),
    m21: -k * sz * cy,
    m22: k * (cz * cx - sz * sy * sx),
    m23: k * (cz * sx + sz * sy * cx),
    m31: k * sy,
    m32: -k * cy * sx,
    m33: k * cy * cx,
  };
}

/** The transpose of a matrix. Inverse: itself. */
export function transposeMatrix3(m: Matrix3): Matrix3 {
  return {
    m11: m.m11,
    m12: m.m21,
    m13: m.m31,
    m21: m.m12,
    m22: m.m22,
    m23: m.m32,
    m31: m.m13,
    m32: m.m23,
    m33: m.m33,
  };
}

/**
 * The inverse of a matrix by cofactors, or null where its determinant is not a positive number:
 * a shift neither flattens space nor turns it inside out.
 */
export function invertMatrix3(m: Matrix3): Matrix3 | null {
  const c11 = m.m22 * m.m33 - m.m23 * m.m32;
  const c12 = m.m23 * m.m31 - m.m21 * m.m33;
  const c13 = m.m21 * m.m32 - m.m22 * m.m31;
  const determinant = m.m11 * c11 + m.m12 * c12 + m.m13 * c13;
  if (!(determinant > 0) || !Number.isFinite(determinant)) return null;
  const d = 1 / determinant;
  return {
    m11: c11 * d,
    m12: (m.m13 * m.m32 - m.m12 * m.m33) * d,
    m13: (m.m12 * m.m23 - m.m13 * m.m22) * d,
    m21: c12 * d,
    m22: (m.m11 * m.m33 - m.m13 * m.m31) * d,
    m23: (m.m13 * m.m21 - m.m11 * m.m23) * d,
    m31: c13 * d,
    m32: (m.m12 * m.m31 - m.m11 * m.m32) * d,
    m33: (m.m11 * m.m22 - m.m12 * m.m21) * d,
  };
}
