import * as decimal from './fixed-decimals.js';
import { chiSquareQuantile, normalQuantile, studentQuantile } from './quantiles.js';

/** A number, or the numbers of a column of a table. */
export type Value = bigint | readonly bigint[];

export const UNITS: Readonly<Record<string, bigint>> = {
  '': decimal.ONE,
  m: decimal.ONE,
  mm: decimal.fromText('0.001'),
  'mm²': decimal.fromText('0.000001'),
  'm²': decimal.ONE,
  'mm⁶': decimal.fromText('0.000000000000000001'),
  '/mm': decimal.fromText('1000'),
  '/mm²': decimal.fromText('1000000'),
  '/mm⁶': decimal.fromText('1000000000000000000'),
  s: decimal.ONE,
  '°': decimal.PI / 180n,
  '″': decimal.PI / 648000n,
  ppm: decimal.fromText('0.000001'),
  'mm/m': decimal.fromText('0.001'),
  'mm/km': decimal.fromText('0.000001'),
  '%': decimal.fromText('0.01'),
};
const POWERS: Readonly<Record<string, number>> = { '²': 2, '³': 3, '⁴': 4, '⁵': 5, '⁶': 6 };
const NAME = /^[\p{L}∞][\p{L}\p{M}0-9₀₁₂₃₄₅₆₇₈₉′_]*/u;
const AMOUNT = /^\d+(?:\.\d+)?/u;
const UNIT = /^(?: ?°| ?″| ?%| (?:ppm|mm\/km|mm\/m|mm²|mm|m²|m|s)(?![\p{L}\p{M}₀₁₂₃₄₅₆₇₈₉_(]))/u;

function each(values: readonly Value[], of: (...own: bigint[]) => bigint): Value {
  const length = values.reduce<number | null>(
    (found, value) => (typeof value === 'bigint' ? found : value.length),
    null,
  );
  if (length === null) return of(...(values as bigint[]));
  return Array.from({ length }, (_, i) =>
    of(...values.map((value) => (typeof value === 'bigint' ? value : (value[i] as bigint)))),
  );
}
const list = (value: Value): readonly bigint[] => (typeof value === 'bigint' ? [value] : value);
const sum = (value: Value): bigint => list(value).reduce((total, one) => total + one, 0n);
const sorted = (value: Value): readonly bigint[] => [...list(value)].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
function median(value: Value): bigint {
  const all = sorted(value);
  const middle = all.length >> 1;
  const upper = all[middle] as bigint;
  return all.length % 2 === 1 ? upper : ((all[middle - 1] as bigint) + upper) / 2n;
}
function slopes(times: Value, values: Value): Value {
  const [t, x] = [list(times), list(values)];
  return t.flatMap((later, j) =>
    t
      .slice(0, j)
      .flatMap((earlier, i) =>
        later > earlier ? [decimal.over((x[j] as bigint) - (x[i] as bigint), later - earlier)] : [],
      ),
  );
}
function pairs(weights: Value, times: Value, tau: Value): bigint {
  const [w, t] = [list(weights), list(times)];
  const faded = new Map<bigint, bigint>();
  const fade = (gap: bigint): bigint => {
    const known = faded.get(gap) ?? decimal.exp(-decimal.over(gap, tau as bigint));
    faded.set(gap, known);
    return known;
  };
  return w.reduce(
    (total, own, i) =>
      total +
      w.reduce((inner, other, j) => {
        const gap = decimal.absolute((t[i] as bigint) - (t[j] as bigint));
        return inner + decimal.times(decimal.times(own, other), fade(gap));
      }, 0n),
    0n,
  );
}
/** The root K of the integral of the 95 % circle, by Simpson's rule and bisection in doubles: the result is printed to five decimals. */
function circle95(ratio: Value): bigint {
  const c = Number(ratio) / Number(decimal.ONE);
  const inside = (k: number): number => {
    const steps = 2000;
    let total = 0;
    for (let i = 0; i <= steps; i += 1) {
      const t = (i * Math.PI) / 2 / steps;
      const q = Math.cos(t) ** 2 + c * c * Math.sin(t) ** 2;
      total += (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) * (q === 0 ? 0 : Math.exp((-k * k) / (2 * q)));
    }
    return 1 - (2 / Math.PI) * ((total * Math.PI) / 2 / steps / 3);
  };
  let [low, high] = [1.9, 2.5];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (inside(middle) < 0.95) low = middle;
    else high = middle;
  }
  return decimal.fromText(low.toFixed(15));
}

type Function = (...values: readonly Value[]) => Value;
const one =
  (of: (x: bigint) => bigint): Function =>
  (value) =>
    each([value], of);
const most = (values: readonly bigint[], sign: bigint): bigint =>
  values.reduce((found, value) => (sign * value > sign * found ? value : found));
const extreme =
  (sign: bigint): Function =>
  (...values) =>
    values.length === 1 ? most(list(values[0] as Value), sign) : each(values, (...own) => most(own, sign));
const FUNCTIONS: Readonly<Record<string, Function>> = {
  sin: one(decimal.sin),
  cos: one(decimal.cos),
  tan: one((x) => decimal.over(decimal.sin(x), decimal.cos(x))),
  atan: one(decimal.atan),
  asin: one((x) => decimal.atan2(x, decimal.root(decimal.ONE - decimal.times(x, x)))),
  sinh: one(decimal.sinh),
  cosh: one(decimal.cosh),
  asinh: one(decimal.asinh),
  atanh: one(decimal.atanh),
  exp: one(decimal.exp),
  ln: one(decimal.ln),
  atan2: (y, x) => each([y, x], decimal.atan2),
  min: extreme(-1n),
  max: extreme(1n),
  sum: (value) => sum(value),
  mean: (value) => sum(value) / BigInt(list(value).length),
  median: (value) => median(value),
  slopes: (times, values) => slopes(times, values),
  pairs: (weights, times, tau) => pairs(weights, times, tau),
  before: (values, at) => list(values).slice(0, Number((at as bigint) / decimal.ONE)),
  after: (values, at) => list(values).slice(Number((at as bigint) / decimal.ONE)),
  circle95: (ratio) => circle95(ratio),
  normal: one(normalQuantile),
  student: (p, freedom) => each([p, freedom], studentQuantile),
  chisquare: (p, freedom) => each([p, freedom], chiSquareQuantile),
};

/** The value of a printed formula, with the numbers its names stand for. */
export function evaluate(text: string, known: ReadonlyMap<string, Value>): Value {
  let rest = text;
  const fail = (what: string): never => {
    throw new Error(`${what} in the printed formula "${text}", before "${rest}"`);
  };
  const take = (token: string): boolean => {
    const trimmed = rest.trimStart();
    if (!trimmed.startsWith(token)) return false;
    rest = trimmed.slice(token.length);
    return true;
  };
  const match = (pattern: RegExp): string | null => {
    const found = pattern.exec(rest.trimStart())?.[0] ?? null;
    if (found !== null) rest = rest.trimStart().slice(found.length);
    return found;
  };
  const power = (base: Value): Value => {
    if (take('^(')) {
      const [exponent] = list_();
      return each([base, exponent as Value], (x, own) => decimal.exp(decimal.times(decimal.ln(x), own)));
    }
    const exponent = POWERS[rest.charAt(0)];
    if (exponent === undefined) return base;
    rest = rest.slice(1);
    return each([base], (x) =>
      Array.from({ length: exponent - 1 }).reduce<bigint>((total) => decimal.times(total, x), x),
    );
  };
  const list_ = (): Value[] => {
    const values = [sumOf()];
    while (take(',')) values.push(sumOf());
    if (!take(')')) fail('a bracket is not closed');
    return values;
  };
  const atom = (): Value => {
    if (take('√')) return each([atom()], decimal.root);
    if (take('|')) {
      const inner = sumOf();
      if (!take('|')) fail('a bar is not closed');
      return power(each([inner], decimal.absolute));
    }
    if (take('(')) {
      const [inner] = list_();
      return power(inner as Value);
    }
    const number = match(AMOUNT);
    if (number !== null) {
      const unit = UNIT.exec(rest)?.[0] ?? '';
      rest = rest.slice(unit.length);
      const size = decimal.times(decimal.fromText(number), UNITS[unit.trim()] as bigint);
      return unit === '' ? power(size) : size;
    }
    const name = match(NAME);
    if (name === null) return fail('something else than a number or a name');
    if (name === 'π') return power(decimal.PI);
    const own = FUNCTIONS[name];
    if (own === undefined || known.has(name)) {
      const value = known.get(name);
      return value === undefined ? fail(`nothing above says what ${name} is`) : power(value);
    }
    const exponent = POWERS[rest.charAt(0)] === undefined ? '' : rest.charAt(0);
    rest = rest.slice(exponent.length);
    const value = take('(') ? own(...list_()) : own(bare());
    if (exponent === '') return power(value);
    rest = exponent + rest;
    return power(value);
  };
  /** An argument without brackets: a name, and no power of it. */
  const bare = (): Value => {
    const name = match(NAME) ?? fail('a function of nothing');
    const value = known.get(name);
    return value === undefined ? fail(`nothing above says what ${name} is`) : value;
  };
  const product = (): Value => {
    let value = atom();
    for (;;) {
      if (take('·')) value = each([value, atom()], decimal.times);
      else if (take('/')) value = each([value, atom()], decimal.over);
      else return value;
    }
  };
  const sumOf = (): Value => {
    let value = take('−') ? each([product()], (x) => -x) : product();
    for (;;) {
      if (take('+')) value = each([value, product()], (a, b) => a + b);
      else if (take('−')) value = each([value, product()], (a, b) => a - b);
      else return value;
    }
  };
  const value = sumOf();
  return rest.trim() === '' ? value : fail('more than a formula');
}
