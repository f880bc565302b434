/**
 * What the others say of three numbers observed together that they check in every direction: the same as by factors of any size,
 * written out, since nearly all observations of a network are such.
 *
 * Given: an array of weights and where in it P of the three begins; S = P Q_v P and g = P v of them; where S⁻¹ and S⁻¹ g go; the
 * product of all shares of redundancy from which on none can be small.
 * Returned: gᵀ S⁻¹ g; NaN, and nothing is written, where the product is not above it.
 *
 * Note: the upper roots of P and of U are inverted by the same six lines. One function for both would hand its six numbers back
 * through memory, and these lines are run for every observation.
 *
 * Method: P = Rᵀ R; R⁻ᵀ S R⁻¹ = Uᵀ U; K = R⁻¹ U⁻¹; S⁻¹ = K Kᵀ.
 */
export function evidenceOfThree(
  weights: ArrayLike<number>,
  at: number,
  s: Float64Array,
  g: ArrayLike<number>,
  inverse: Float64Array,
  others: Float64Array,
  leastProduct: number,
): number {
  const r00 = Math.sqrt(weights[at]!);
  const r01 = weights[at + 1]! / r00;
  const r02 = weights[at + 2]! / r00;
  const r11 = Math.sqrt(weights[at + 4]! - r01 * r01);
  const r12 = (weights[at + 5]! - r01 * r02) / r11;
  const r22 = Math.sqrt(weights[at + 8]! - r02 * r02 - r12 * r12);
  const i00 = 1 / r00;
  const i11 = 1 / r11;
  const i22 = 1 / r22;
  const i01 = -(r01 * i11) / r00;
  const i12 = -(r12 * i22) / r11;
  const i02 = -(r01 * i12 + r02 * i22) / r00;
  const h01 = s[0]! * i01 + s[1]! * i11;
  const h02 = s[0]! * i02 + s[1]! * i12 + s[2]! * i22;
  const h11 = s[3]! * i01 + s[4]! * i11;
  const h12 = s[3]! * i02 + s[4]! * i12 + s[5]! * i22;
  const h22 = s[6]! * i02 + s[7]! * i12 + s[8]! * i22;
  const first = i00 * s[0]! * i00;
  const u00 = Math.sqrt(first);
  const u01 = (i00 * h01) / u00;
  const u02 = (i00 * h02) / u00;
  const second = i01 * h01 + i11 * h11 - u01 * u01;
  const u11 = Math.sqrt(second);
  const u12 = (i01 * h02 + i11 * h12 - u01 * u02) / u11;
  const third = i02 * h02 + i12 * h12 + i22 * h22 - u02 * u02 - u12 * u12;
  // A share that is not positive makes a root that is no number, and so this product or one before it.
  if (!(first > leastProduct && first * second > leastProduct && first * second * third > leastProduct)) return NaN;
  const u22 = Math.sqrt(third);
  const v00 = 1 / u00;
  const v11 = 1 / u11;
  const v22 = 1 / u22;
  const v01 = -(u01 * v11) / u00;
  const v12 = -(u12 * v22) / u11;
  const v02 = -(u01 * v12 + u02 * v22) / u00;
  const k00 = i00 * v00;
  const k01 = i00 * v01 + i01 * v11;
  const k02 = i00 * v02 + i01 * v12 + i02 * v22;
  const k11 = i11 * v11;
  const k12 = i11 * v12 + i12 * v22;
  const k22 = i22 * v22;
  const a00 = k00 * k00 + k01 * k01 + k02 * k02;
  const a01 = k01 * k11 + k02 * k12;
  const a02 = k02 * k22;
  const a11 = k11 * k11 + k12 * k12;
  const a12 = k12 * k22;
  const a22 = k22 * k22;
  writeEven(inverse, a00, a01, a02, a11, a12, a22);
  return times3(inverse, g, others);
}

/** A g into `others`; returned: gᵀ A g. */
function times3(a: Float64Array, g: ArrayLike<number>, others: Float64Array): number {
  const x = g[0]!;
  const y = g[1]!;
  const z = g[2]!;
  others[0] = a[0]! * x + a[1]! * y + a[2]! * z;
  others[1] = a[3]! * x + a[4]! * y + a[5]! * z;
  others[2] = a[6]! * x + a[7]! * y + a[8]! * z;
  return x * others[0] + y * others[1] + z * others[2];
}

/** A symmetric matrix, row by row. */
function writeEven(into: Float64Array, xx: number, xy: number, xz: number, yy: number, yz: number, zz: number): void {
  into[0] = xx;
  into[1] = xy;
  into[2] = xz;
  into[3] = xy;
  into[4] = yy;
  into[5] = yz;
  into[6] = xz;
  into[7] = yz;
  into[8] = zz;
}
