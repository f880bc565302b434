// A network of points seen from four bases on five days, all numbers from one seed: the same files every time.
import { closeSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';

/** Bases: east, north, up of the place where the equator meets the meridian of Greenwich, metres. */
export const BASES = [
  [0, 0, 0],
  [40_000, 5_000, 120],
  [15_000, 45_000, -60],
  [60_000, 52_000, 340],
];
export const EQUATOR_M = 6_378_137;
/** Days a base stands. */
export const DAYS = 5;
/** One sigma of a base and of its day in each axis, metres. */
export const BASE_SIGMA_M = 0.01;
export const DAY_SIGMA_M = 0.005;
/** Numbers of a vector in `network-numbers.bin`: base, day, point, X, Y, Z and their variances. */
export const VALUES = 9;
/** Rows written at once. */
const PIECE = 5_000;

/** Names whose order is that of the points. */
export const pointName = (point) => `P${String(point + 1).padStart(7, '0')}`;

/** Uniform numbers of a linear congruence; the product passes 2⁵³, so that it is formed in two parts. */
function congruence(seed) {
  let state = seed;
  return () => {
    const low = state % 65536;
    const high = (state - low) / 65536;
    state = (((high * 1103515245) % 32768) * 65536 + low * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
}

/**
 * Writes network-vectors.csv, the same vectors as network-numbers.bin, and network-control.csv for so many points. Numbers are drawn as those of `madeNetwork` in the
 * tests; up is geocentric X there where it stands, east Y and north Z. Returned: how many vectors there are.
 */
export function writeNetworkFiles(folder, points, seed = 20_260_304) {
  const u = congruence(seed);
  const g = () => {
    let sum = 0;
    for (let k = 0; k < 12; k += 1) sum += u();
    return sum - 6;
  };
  const three = (of) => [of(), of(), of()];
  const baseErrors = BASES.map(() => three(() => BASE_SIGMA_M * g()));
  const dayErrors = BASES.map(() => Array.from({ length: DAYS }, () => three(() => DAY_SIGMA_M * g())));
  const truths = new Float64Array(3 * points);
  for (let at = 0; at < truths.length; at += 3) {
    truths[at] = 60_000 * u();
    truths[at + 1] = 60_000 * u();
    truths[at + 2] = 400 * u();
  }
  writeFileSync(
    join(folder, 'network-control.csv'),
    `point_id,x_m,y_m,z_m,sigma_horizontal_m,sigma_vertical_m\n${BASES.map(([east, north, up], b) => `B${b + 1},${EQUATOR_M + up},${east},${north},${BASE_SIGMA_M},${BASE_SIGMA_M}`).join('\n')}\n`,
  );
  const file = openSync(join(folder, 'network-vectors.csv'), 'w');
  let lines = ['from_id,to_id,dx_m,dy_m,dz_m,cov_xx_m2,cov_xy_m2,cov_xz_m2,cov_yy_m2,cov_yz_m2,cov_zz_m2,day'];
  const binary = openSync(join(folder, 'network-numbers.bin'), 'w');
  let numbers = [];
  let count = 0;
  for (let p = 0; p < points; p += 1) {
    const times = 1 + Math.floor(3 * u());
    for (let k = 0; k < times; k += 1) {
      const b = Math.floor(4 * u());
      const d = Math.floor(5 * u());
      const km = Math.hypot(truths[3 * p] - BASES[b][0], truths[3 * p + 1] - BASES[b][1]) / 1000;
      const plan = Math.hypot(0.008, 0.0005 * km);
      const height = Math.hypot(0.015, 0.001 * km);
      const [east, north, up] = [plan, plan, height].map(
        (sigma, axis) =>
          truths[3 * p + axis] - BASES[b][axis] - baseErrors[b][axis] - dayErrors[b][d][axis] + sigma * g(),
      );
      lines.push(
        `B${b + 1},${pointName(p)},${up.toFixed(5)},${east.toFixed(5)},${north.toFixed(5)},${(height ** 2).toExponential(6)},0,0,${(plan ** 2).toExponential(6)},0,${(plan ** 2).toExponential(6)},${d + 1}`,
      );
      numbers.push(b, d, p, up, east, north, height ** 2, plan ** 2, plan ** 2);
      count += 1;
    }
    if (lines.length > PIECE || p === points - 1) {
      writeSync(file, `${lines.join('\n')}\n`);
      writeSync(binary, new Uint8Array(Float64Array.from(numbers).buffer));
      numbers = [];
      lines = [];
    }
  }
  closeSync(file);
  closeSync(binary);
  return count;
}
