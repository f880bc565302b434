import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';

/** Decimals at least, and digits that count where it is smaller than these show. */
const LEAST_DECIMALS = 4;
const DIGITS = 2;

/** A share as percent, never as nothing: 0.0837 %, 0.000010 %. */
export function percentText(share: number): string {
  const percent = 100 * share;
  const leading = percent > 0 ? -Math.floor(Math.log10(percent)) : 0;
  return `${formatFixed(percent, Math.max(LEAST_DECIMALS, leading + DIGITS - 1))} %`;
}
