/** Marks, spaces and signs between the letters and digits of a name. */
const BETWEEN = /[^\p{L}\p{N}\p{M}]+/u;

/**
 * What two writings of one name have in common: forms of one letter (Unicode Standard Annex 15, NFKC), upper and lower case, spaces, hyphens and other
 * signs beside a letter or at the ends, and noughts before a number are left out. A sign between two digits stays, so that 1-23 is not 12-3.
 *
 * @example
 * nameKey('QP–007') === nameKey('qp 7'); // true
 */
export function nameKey(name: string): string {
  const parts = name.normalize('NFKC').toLowerCase().split(BETWEEN);
  let key = '';
  for (const part of parts) {
    if (part === '') continue;
    key += isDigit(key.at(-1)) && isDigit(part[0]) ? `-${part}` : part;
  }
  return key.replace(/\d+/g, withoutNoughts);
}

function isDigit(character: string | undefined): boolean {
  return character !== undefined && character >= '0' && character <= '9';
}

function withoutNoughts(digits: string): string {
  let from = 0;
  while (from < digits.length - 1 && digits[from] === '0') from += 1;
  return digits.slice(from);
}
