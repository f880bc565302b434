/** Place that the polynomial counts from: southing and westing, metres. */
const ORIGIN_M = [1089000, 654000] as const;
/** C₁ + iC₂, C₃ + iC₄, C₅ + iC₆, C₇ + iC₈: of powers 0 to 3 of the place. */
const POWERS = [
  [2.946529277e-2, 2.515965696e-2],
  [1.193845912e-7, -4.668270147e-7],
  [9.233980362e-12, 1.523735715e-12],
  [1.696780024e-18, 4.408314235e-18],
] as const;
/** C₁₀ + iC₉: of the fourth power, turned about the first axis. */
const FOURTH = [-3.689471323e-24, -8.331083518e-24] as const;

/**
 * What the modified form of Krovak's projection takes off a southing and a westing.
 *
 * Given: metres, without the false origin. Returned: southing and westing, metres.
 * Note: written with z = (X − X₀) + i(Y − Y₀) the ten terms are a polynomial of z, and one of the conjugate of z⁴.
 * Reference: IOGP-373-7-2, method 1042, dX and dY; the coefficients are fixed by the method.
 */
export function modifiedKrovakM(southM: number, westM: number): readonly [number, number] {
  const x = southM - ORIGIN_M[0];
  const y = westM - ORIGIN_M[1];
  let [powerX, powerY] = [1, 0];
  let [sumX, sumY] = [0, 0];
  for (const [a, b] of POWERS) {
    sumX += a * powerX - b * powerY;
    sumY += a * powerY + b * powerX;
    [powerX, powerY] = [powerX * x - powerY * y, powerX * y + powerY * x];
  }
  return [sumX + FOURTH[0] * powerX + FOURTH[1] * powerY, sumY + FOURTH[1] * powerX - FOURTH[0] * powerY];
}
