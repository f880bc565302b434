// Decimal arithmetic with 60 places in whole numbers, and the elementary functions from their series: nothing of it is shared
// with the program, and no binary rounding takes part.

const PLACES = 60n;
export const ONE: bigint = 10n ** PLACES;

const parts = (text: string): bigint => {
  const [whole = '0', after = ''] = text.split('.');
  return BigInt(whole + after.padEnd(Number(PLACES), '0'));
};
/** From the digits of a number such as -12.5. */
export const fromText = (text: string): bigint => (text.startsWith('-') ? -parts(text.slice(1)) : parts(text));
export const whole = (value: number): bigint => BigInt(value) * ONE;

export const times = (a: bigint, b: bigint): bigint => (a * b) / ONE;
export const over = (a: bigint, b: bigint): bigint => {
  if (b === 0n) throw new Error('a printed formula divides by nothing');
  return (a * ONE) / b;
};
export const absolute = (a: bigint): bigint => (a < 0n ? -a : a);

export function root(a: bigint): bigint {
  if (a < 0n) throw new Error('a printed formula takes the root of a negative number');
  if (a === 0n) return 0n;
  const square = a * ONE;
  let x = 1n << BigInt((square.toString(2).length + 1) >> 1);
  for (;;) {
    const next = (x + square / x) >> 1n;
    if (next >= x) return x;
    x = next;
  }
}

function arctangentOfInverse(n: bigint): bigint {
  let power = ONE / n;
  let sum = power;
  for (let k = 1n; power !== 0n; k += 1n) {
    power = -power / (n * n);
    sum += power / (2n * k + 1n);
  }
  return sum;
}
/** Machin: π = 16 atan(1/5) − 4 atan(1/239). */
export const PI: bigint = 16n * arctangentOfInverse(5n) - 4n * arctangentOfInverse(239n);

function series(x: bigint, first: bigint, from: bigint): bigint {
  let term = first;
  let sum = first;
  for (let k = from; term !== 0n; k += 2n) {
    term = -times(times(term, x), x) / (k * (k + 1n));
    sum += term;
  }
  return sum;
}
const turned = (x: bigint): bigint => {
  const rest = x % (2n * PI);
  return rest > PI ? rest - 2n * PI : rest < -PI ? rest + 2n * PI : rest;
};
export const sin = (x: bigint): bigint => series(turned(x), turned(x), 2n);
export const cos = (x: bigint): bigint => series(turned(x), ONE, 1n);

export function exp(x: bigint): bigint {
  if (x < 0n) return over(ONE, exp(-x));
  let halvings = 0;
  let rest = x;
  while (rest > ONE / 4n) {
    rest /= 2n;
    halvings += 1;
  }
  let term = ONE;
  let sum = ONE;
  for (let k = 1n; term !== 0n; k += 1n) {
    term = times(term, rest) / k;
    sum += term;
  }
  for (; halvings > 0; halvings -= 1) sum = times(sum, sum);
  return sum;
}

/** Newton on the exponential, from a double's logarithm. */
export function ln(x: bigint): bigint {
  if (x <= 0n) throw new Error('a printed formula takes the logarithm of what has none');
  let y = BigInt(Math.round(Math.log(Number(x) / Number(ONE)) * 1e12)) * (ONE / 10n ** 12n);
  for (let step = 0; step < 3; step += 1) {
    const e = exp(y);
    y += 2n * over(x - e, x + e);
  }
  return y;
}

export function atan(x: bigint): bigint {
  if (x < 0n) return -atan(-x);
  if (x > ONE) return PI / 2n - atan(over(ONE, x));
  let y = x;
  for (let halving = 0; halving < 4; halving += 1) y = over(y, ONE + root(ONE + times(y, y)));
  let power = y;
  let sum = y;
  for (let k = 1n; power !== 0n; k += 1n) {
    power = -times(times(power, y), y);
    sum += power / (2n * k + 1n);
  }
  return 16n * sum;
}
export function atan2(y: bigint, x: bigint): bigint {
  if (x > 0n) return atan(over(y, x));
  if (x < 0n) return y >= 0n ? atan(over(y, x)) + PI : atan(over(y, x)) - PI;
  return y > 0n ? PI / 2n : y < 0n ? -PI / 2n : 0n;
}
export const sinh = (x: bigint): bigint => (exp(x) - exp(-x)) / 2n;
export const cosh = (x: bigint): bigint => (exp(x) + exp(-x)) / 2n;
export const asinh = (x: bigint): bigint => (x < 0n ? -asinh(-x) : ln(x + root(times(x, x) + ONE)));
export const atanh = (x: bigint): bigint => ln(over(ONE + x, ONE - x)) / 2n;
