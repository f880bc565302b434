// Elementary functions built from + − × ÷ and √ alone. IEEE 754 fixes those to the last bit, and
// leaves sin, exp and log to each engine; so the files of the day are the same bytes everywhere.
// Within a few units of the last place for the arguments of this folder.

const HALF_PI_HIGH = 1.5707963267341256;
const HALF_PI_LOW = 6.077100506506192e-11;

export const PI = 3.141592653589793;
export const RADIANS_PER_DEGREE = PI / 180;

function reduced(x) {
  const quarters = Math.round((x * 2) / PI);
  return { quarters: ((quarters % 4) + 4) % 4, rest: x - quarters * HALF_PI_HIGH - quarters * HALF_PI_LOW };
}

function sinSeries(x) {
  let sum = 0;
  for (let n = 19; n >= 3; n -= 2) sum = (-x * x * (1 + sum)) / (n * (n - 1));
  return x * (1 + sum);
}

function cosSeries(x) {
  let sum = 0;
  for (let n = 20; n >= 2; n -= 2) sum = (-x * x * (1 + sum)) / (n * (n - 1));
  return 1 + sum;
}

/** Sine; |x| below some hundreds of radians. */
export function sin(x) {
  const { quarters, rest } = reduced(x);
  if (quarters === 0) return sinSeries(rest);
  if (quarters === 1) return cosSeries(rest);
  return quarters === 2 ? -sinSeries(rest) : -cosSeries(rest);
}

export function cos(x) {
  const { quarters, rest } = reduced(x);
  if (quarters === 0) return cosSeries(rest);
  if (quarters === 1) return -sinSeries(rest);
  return quarters === 2 ? -cosSeries(rest) : sinSeries(rest);
}

export function atan(x) {
  if (x < 0) return -atan(-x);
  if (x > 1) return PI / 2 - atan(1 / x);
  let y = x;
  for (let halving = 0; halving < 3; halving += 1) y /= 1 + Math.sqrt(1 + y * y);
  let sum = 0;
  for (let n = 19; n >= 1; n -= 2) sum = 1 / n - y * y * sum;
  return 8 * y * sum;
}

export function atan2(y, x) {
  if (x > 0) return atan(y / x);
  if (x < 0) return y >= 0 ? atan(y / x) + PI : atan(y / x) - PI;
  return y > 0 ? PI / 2 : y < 0 ? -PI / 2 : 0;
}

/** Natural exponential; about −700 to 700. */
export function exp(x) {
  const halvings = Math.round(x / 0.6931471805599453);
  const rest = x - halvings * 0.6931471805599453;
  let sum = 1;
  for (let n = 20; n >= 1; n -= 1) sum = 1 + (rest * sum) / n;
  let scale = 1;
  for (let n = Math.abs(halvings); n > 0; n -= 1) scale *= halvings > 0 ? 2 : 0.5;
  return sum * scale;
}

/** Natural logarithm of a positive number. */
export function log(x) {
  let doublings = 0;
  let rest = x;
  for (; rest < 0.7; rest *= 2) doublings -= 1;
  for (; rest > 1.4; rest /= 2) doublings += 1;
  const z = (rest - 1) / (rest + 1);
  let sum = 0;
  for (let n = 25; n >= 1; n -= 2) sum = 1 / n + z * z * sum;
  return 2 * z * sum + doublings * 0.6931471805599453;
}

export function sinh(x) {
  if (Math.abs(x) > 0.5) return (exp(x) - exp(-x)) / 2;
  let sum = 0;
  for (let n = 19; n >= 3; n -= 2) sum = (x * x * (1 + sum)) / (n * (n - 1));
  return x * (1 + sum);
}

export function cosh(x) {
  return (exp(x) + exp(-x)) / 2;
}

/** Inverse hyperbolic tangent, |x| < 1. */
export function atanh(x) {
  if (Math.abs(x) > 0.2) return log((1 + x) / (1 - x)) / 2;
  let sum = 0;
  for (let n = 31; n >= 1; n -= 2) sum = 1 / n + x * x * sum;
  return x * sum;
}
