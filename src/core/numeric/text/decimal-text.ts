const POWERS_OF_TEN: Float64Array = Float64Array.from({ length: 23 }, (_, n) => Number(`1e${String(n)}`));
const LARGEST_EXACT = 9007199254740991;

/**
 * A number from its decimal text, strictly.
 *
 * Given: text; whether the decimal mark is a comma (then a point is refused). Spaces and tabs
 * around the number are allowed. The number is an optional sign, digits with at most one decimal
 * mark and at least one digit, and an optional exponent.
 * Returned: the double nearest to the decimal, or null when the text is anything else: empty, a
 * lone sign, hexadecimal, a word such as inf, grouped digits, or too large for a double.
 * Inverse: `formatFixed`, within its decimals.
 *
 * @example
 * parseDecimal('1.25'); // 1.25
 * parseDecimal('12,5'); // null
 * parseDecimal('12,5', true); // 12.5
 */
export function parseDecimal(text: string, decimalComma = false): number | null {
  let start = 0;
  let end = text.length;
  // Beyond either end there is no character, which is no blank.
  while (isBlank(text.charCodeAt(start))) start += 1;
  while (isBlank(text.charCodeAt(end - 1))) end -= 1;
  const mark = decimalComma ? 44 : 46;
  const first = text.charCodeAt(start);
  let at = first === 45 || first === 43 ? start + 1 : start;
  let anyDigit = false;
  let decimals = 0;
  let marks = 0;
  let whole = 0;
  for (; at < end; at += 1) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      anyDigit = true;
      decimals += marks;
      whole = whole * 10 + (code - 48);
    } else if (code === mark && marks === 0) marks = 1;
    else break;
  }
  if (!anyDigit) return null;
  // A whole number a double holds exactly, divided by an exact power of ten, is rounded only once.
  if (at === end && whole <= LARGEST_EXACT && decimals < POWERS_OF_TEN.length) {
    const value = whole / (POWERS_OF_TEN[decimals] as number);
    return first === 45 ? -value : value;
  }
  if (at < end && !isExponent(text, at, end)) return null;
  const plain = text.slice(start, end);
  const value = Number(decimalComma ? plain.replace(',', '.') : plain);
  return Number.isFinite(value) ? value : null;
}

function isBlank(code: number): boolean {
  return code === 32 || code === 9;
}

/** True when `text` from `at` to `end` is `e` or `E`, an optional sign and digits. */
function isExponent(text: string, at: number, end: number): boolean {
  const letter = text.charCodeAt(at);
  if (letter !== 101 && letter !== 69) return false;
  const sign = text.charCodeAt(at + 1);
  const from = sign === 43 || sign === 45 ? at + 2 : at + 1;
  if (from >= end) return false;
  for (let i = from; i < end; i += 1) {
    const code = text.charCodeAt(i);
    if (code < 48 || code > 57) return false;
  }
  return true;
}
