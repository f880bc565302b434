import type { Dilution } from '../../records/sky/site-sky.js';

/** Below this share of the cube of the mean square the geometry is flat: a plane does not place a point. */
const FLAT = 1e-12;

/**
 * Dilution of precision of satellites in given directions, with an unknown clock for each constellation.
 *
 * Given: unit vectors east, north, up, three numbers each, of which `count` are used; the constellation of each as a small number from 0; how many
 * constellations there may be. Returned: null where they do not place a point: fewer than three more than there are constellations among them, or all in one plane.
 * All weigh the same. A constellation of one satellite adds nothing. PDOP, HDOP and VDOP are roots of sums of the variances east, north and up;
 * TDOP that of all clocks together, GDOP that of everything: with one constellation the textbook's.
 * Method: each clock is eliminated, which leaves the directions about their mean in that constellation; Q = (HᵀH)⁻¹ by parts.
 * Reference: IS-GPS-200 era textbooks, from memory; exact geometries in tests/reference/sky-dop.csv.
 */
export function dilution(
  directions: Float64Array,
  systems: ArrayLike<number>,
  count: number,
  systemCount: number,
): Dilution | null {
  const sums = new Float64Array(4 * systemCount);
  let [ee, en, eu, nn, nu, uu] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < count; i += 1) {
    const [e, n, u] = [directions[3 * i]!, directions[3 * i + 1]!, directions[3 * i + 2]!];
    const at = 4 * systems[i]!;
    sums[at] = sums[at]! + e;
    sums[at + 1] = sums[at + 1]! + n;
    sums[at + 2] = sums[at + 2]! + u;
    sums[at + 3] = sums[at + 3]! + 1;
    ee += e * e;
    en += e * n;
    eu += e * u;
    nn += n * n;
    nu += n * u;
    uu += u * u;
  }
  let clocks = 0;
  for (let s = 0; s < systemCount; s += 1) {
    const k = sums[4 * s + 3]!;
    if (k === 0) continue;
    clocks += 1;
    const [e, n, u] = [sums[4 * s]!, sums[4 * s + 1]!, sums[4 * s + 2]!];
    ee -= (e * e) / k;
    en -= (e * n) / k;
    eu -= (e * u) / k;
    nn -= (n * n) / k;
    nu -= (n * u) / k;
    uu -= (u * u) / k;
  }
  if (count < clocks + 3) return null;
  const [c00, c01, c02] = [nn * uu - nu * nu, eu * nu - en * uu, en * nu - eu * nn];
  const determinant = ee * c00 + en * c01 + eu * c02;
  if (!(determinant > FLAT * ((ee + nn + uu) / 3) ** 3)) return null;
  const q = {
    ...{ ee: c00 / determinant, en: c01 / determinant, eu: c02 / determinant },
    nn: (ee * uu - eu * eu) / determinant,
    nu: (en * eu - ee * nu) / determinant,
    uu: (ee * nn - en * en) / determinant,
  };
  const clock = clockVariance(sums, q);
  const plan = q.ee + q.nn;
  return {
    gdop: Math.sqrt(plan + q.uu + clock),
    pdop: Math.sqrt(plan + q.uu),
    hdop: Math.sqrt(plan),
    vdop: Math.sqrt(q.uu),
    tdop: Math.sqrt(clock),
  };
}

/** The variances of all clocks together. Given: sums of the directions of each constellation and their count, four numbers each; Q of the position. */
function clockVariance(
  sums: Float64Array,
  q: Readonly<Record<'ee' | 'en' | 'eu' | 'nn' | 'nu' | 'uu', number>>,
): number {
  let variance = 0;
  for (let at = 0; at < sums.length; at += 4) {
    const k = sums[at + 3]!;
    if (k === 0) continue;
    const [e, n, u] = [sums[at]! / k, sums[at + 1]! / k, sums[at + 2]! / k];
    variance += 1 / k + q.ee * e * e + q.nn * n * n + q.uu * u * u + 2 * (q.en * e * n + q.eu * e * u + q.nu * n * u);
  }
  return variance;
}
