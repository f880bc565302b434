import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { present } from '../../../records/present.js';

/** A number with so many decimals, the same on every system. */
export function fixedNumber(value: number, decimals: number): number {
  return present(parseDecimal(formatFixed(value, decimals)), 'the number of a text just written');
}

/** A number with so many digits, the same on every system. */
export function significantNumber(value: number, digits: number): number {
  if (value === 0) return 0;
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  return present(
    parseDecimal(`${formatFixed(value / 10 ** exponent, digits - 1)}e${exponent}`),
    'the number of a text just written',
  );
}
