import * as decimal from './fixed-decimals.js';

// Quantiles from the definitions of the distributions (DLMF 7.6, 8.4, 8.17, from memory), by bisection: nothing of it is shared with the program.

/** The place where what falls has come down to `level`; to fifteen decimals. */
function fallsTo(level: bigint, tail: (x: bigint) => bigint, highest: number): bigint {
  let [low, high] = [0n, decimal.whole(highest)];
  while (high - low > decimal.ONE / 10n ** 15n) {
    const middle = (low + high) / 2n;
    if (tail(middle) > level) low = middle;
    else high = middle;
  }
  return low;
}

/** What lies above x: a half less φ(x)·(x + x³/3 + x⁵/15 + …). */
function normalTail(x: bigint): bigint {
  const square = decimal.times(x, x);
  let term = x;
  let sum = x;
  for (let k = 3n; term !== 0n; k += 2n) {
    term = decimal.times(term, square) / k;
    sum += term;
  }
  const density = decimal.over(decimal.exp(-square / 2n), decimal.root(2n * decimal.PI));
  return decimal.ONE / 2n - decimal.times(density, sum);
}

export const normalQuantile = (p: bigint): bigint => fallsTo(decimal.ONE - p, normalTail, 12);

/** χ² with a whole number of degrees of freedom: that of one or two, and a term for every two more. */
function chiSquareTail(x: bigint, freedom: number): bigint {
  const half = x / 2n;
  const fading = decimal.exp(-half);
  const isOdd = freedom % 2 === 1;
  let term = isOdd
    ? decimal.times(fading, decimal.over(2n * decimal.root(half), decimal.root(decimal.PI)))
    : decimal.times(fading, half);
  let sum = isOdd ? 2n * normalTail(decimal.root(x)) : fading;
  for (let own = isOdd ? 3 : 4; own <= freedom; own += 2) {
    sum += term;
    term = decimal.over(decimal.times(term, half), decimal.whole(own) / 2n);
  }
  return sum;
}

export const chiSquareQuantile = (p: bigint, freedom: bigint): bigint =>
  fallsTo(decimal.ONE - p, (x) => chiSquareTail(x, Number(freedom / decimal.ONE)), 400);

/**
 * Student's with ν a multiple of a half: t = √ν cot s², of which the density is a multiple of sin(s²)^(ν − 1)·s; by Simpson's rule
 * in doubles, since the result is printed to six decimals.
 */
export function studentQuantile(p: bigint, freedom: bigint): bigint {
  const [level, v] = [decimal.ONE - p, freedom].map((value) => Number(value) / Number(decimal.ONE)) as [number, number];
  const STEPS = 4000;
  const area = (to: number): number => {
    let total = 0;
    for (let i = 1; i <= STEPS; i += 1) {
      const s = (i * to) / STEPS;
      total += (i === STEPS ? 1 : i % 2 === 1 ? 4 : 2) * Math.sin(s * s) ** (v - 1) * s;
    }
    return (total * to) / STEPS / 3;
  };
  const all = 2 * area(Math.sqrt(Math.PI / 2));
  let [low, high] = [0, Math.sqrt(Math.PI / 2)];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (area(middle) < level * all) low = middle;
    else high = middle;
  }
  return decimal.fromText((Math.sqrt(v) / Math.tan(low * low)).toFixed(12));
}
