const NUMBERS = /\d+(?:[.,](\d*))?/gu;

/**
 * Half a unit of the last digit as written: what a printed value leaves unsaid.
 *
 * Given: a number, or an angle in degrees, in degrees and minutes, or in degrees, minutes and seconds.
 * Returned: in the unit of the value (degrees for angles, whatever their form); 0 where it holds no digit.
 */
export function writtenRounding(text: string): number {
  const numbers = [...text.matchAll(NUMBERS)];
  const last = numbers.at(-1);
  if (last === undefined) return 0;
  return (0.5 * 10 ** -(last[1]?.length ?? 0)) / 60 ** Math.min(2, numbers.length - 1);
}
