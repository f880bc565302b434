/**
 * Chebyshev coefficients of K(c) on 0…1, fitted to the root of the integral in the doc comment of
 * `exactCircleFactor95`; the fit departs from it by less than 2e-8. The test integrates afresh.
 */
const COEFFICIENTS: readonly number[] = [
  2.12194939274, 0.233792702292, 0.0839179897284, 0.0116275119489, -0.00212730393024, -0.00184582573361,
  9.87746054261e-5, 0.000394585116128, 2.83907175647e-5, -9.84734585266e-5, -1.64213674338e-5, 2.70702908613e-5,
  6.07661632588e-6, -8.08265000293e-6, -1.91387392043e-6, 2.5731646397e-6, 5.1728996544e-7, -8.51446999254e-7,
  -1.03654124175e-7, 2.83527589817e-7, 1.26852759542e-9, -9.12854430471e-8, 1.4970003373e-8, 2.58613425275e-8,
  -1.40077589319e-8,
];

/**
 * K(c): radius of the circle that holds 95 % of a plane normal error, in semi-major axes of its
 * one-sigma ellipse; c is the ratio of the minor to the major axis.
 *
 * K solves 1 − (2/π) ∫₀^{π/2} exp(−K²/(2 q)) dt = 0.95 with q = cos²t + c² sin²t.
 *
 * Given: c, 0 to 1 (values beyond by rounding are clamped). Returned: 1.95996 (a line) to 2.44775 (a
 * circle), within 1e-6.
 *
 * Reference: integral of the normal density over a disc in the parameter angle of the ellipse,
 * docs/methods/uncertainty.md, "95 % figures".
 */
export function exactCircleFactor95(axisRatio: number): number {
  const c = axisRatio <= 0 ? 0 : axisRatio >= 1 ? 1 : axisRatio;
  const x = 4 * c - 2;
  let next = 0;
  let afterNext = 0;
  for (let k = COEFFICIENTS.length - 1; k > 0; k -= 1) {
    const current = (COEFFICIENTS[k] as number) + x * next - afterNext;
    afterNext = next;
    next = current;
  }
  return (COEFFICIENTS[0] as number) + 0.5 * x * next - afterNext;
}
