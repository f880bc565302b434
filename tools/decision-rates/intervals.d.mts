/** Rate and Wilson's 95 % interval, between 0 and 1. */
export function wilson(
  count: number,
  of: number,
): { readonly rate: number; readonly low: number; readonly high: number };
/** The same as text, in per cent. */
export function rateText(count: number, of: number): string;
