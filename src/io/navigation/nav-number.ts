import { parseDecimal } from '../../core/numeric/text/decimal-text.js';

/** A number of Fortran's form, `-.238900777D+07`, with an exponent of any case and length; null where it is none. */
export function navNumber(text: string): number | null {
  return parseDecimal(text.trim().replace(/[dD]/u, 'E'));
}
