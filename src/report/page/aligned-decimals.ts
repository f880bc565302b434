import type { Markup } from './markup.js';

/** A number, or several with a bar or slash between them: its last digits behind the point. */
const LAST_NUMBER = /(?:^|[ (])\u2212?\d+(?:\.(\d+))?$/u;
/** Digits that a class of the style makes room for. */
const MOST_DIGITS = 4;

/**
 * A class for each cell of a column of numbers, so that their points stand under each other where some have fewer decimals: `z2` is
 * room for two digits, `y2` for two digits and their point. Cells that end in no number have none, and so have all of a column whose
 * numbers have as many decimals each.
 */
export function decimalClasses(cells: readonly (string | Markup)[]): readonly string[] {
  const decimals = cells.map((cell) => {
    const found = typeof cell === 'string' ? LAST_NUMBER.exec(cell) : null;
    return found === null ? null : (found[1]?.length ?? 0); // A whole number has none.
  });
  const known = decimals.filter((count) => count !== null);
  const most = Math.min(
    MOST_DIGITS,
    known.reduce((a, b) => Math.max(a, b), 0),
  );
  return decimals.map((count) => {
    if (count === null || count >= most) return '';
    return `${count === 0 ? 'y' : 'z'}${String(most - count)}`;
  });
}
