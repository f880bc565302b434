/**
 * ln(1 + u) − u without the loss of digits near u = 0.
 *
 * Given: u > −1; 1 + u as well where the caller has it with more digits than the sum would give
 * (u near −1). Returned: the difference, never positive.
 * Method: with v = u / (2 + u), −u v + 2 v³ (1/3 + v²/5 + v⁴/7 + …) near 0; directly elsewhere.
 * Reference: DLMF, 4.6.4, rearranged.
 */
export function logOnePlusMinus(u: number, onePlusU: number = 1 + u): number {
  if (u < -0.5 || u > 1) return Math.log(onePlusU) - u;
  const v = u / (2 + u);
  const v2 = v * v;
  let sum = 0;
  let power = 1;
  for (let k = 3; k < 80; k += 2) {
    const term = power / k;
    sum += term;
    if (term <= sum * 1e-17) break;
    power *= v2;
  }
  return -u * v + 2 * v * v2 * sum;
}

const SERIES: readonly number[] = [
  1 / 12,
  -1 / 360,
  1 / 1260,
  -1 / 1680,
  1 / 1188,
  -691 / 360360,
  1 / 156,
  -3617 / 122400,
];

/**
 * What Stirling's formula lacks: ln Γ(a + 1) − (½ ln 2πa + a ln a − a).
 *
 * Given: a > 0. Returned: the difference, about 1/(12a).
 * Method: the series in odd powers of 1/a from 16 upwards; below, the difference of neighbours,
 * (a + ½) ln(1 + 1/a) − 1, is added step by step. Reference: DLMF, 5.11.1.
 */
export function stirlingError(a: number): number {
  let shifted = a;
  let sum = 0;
  while (shifted < 16) {
    // (s + ½)(L + 1/s) − 1 with L = ln(1 + 1/s) − 1/s.
    sum += (shifted + 0.5) * logOnePlusMinus(1 / shifted) + 0.5 / shifted;
    shifted += 1;
  }
  const inverseSquare = 1 / (shifted * shifted);
  let series = 0;
  for (let k = SERIES.length - 1; k >= 0; k -= 1) series = series * inverseSquare + (SERIES[k] as number);
  return sum + series / shifted;
}
