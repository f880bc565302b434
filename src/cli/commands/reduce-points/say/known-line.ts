import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { BaseSettings } from '../../../../records/session.js';

/** What is said of a base whose coordinate an earlier day gave. */
export function knownLine(
  { id, day, sigmaHorizontalM, sigmaVerticalM }: BaseSettings,
  from: { readonly point: string; readonly day: string },
): string {
  const m = (value: number | null): string => (value === null ? 'unknown' : `${formatFixed(value, 3)} m`);
  return `base ${id}${day === null ? '' : ` on ${day}`}: its coordinate is that of ${from.point} on ${from.day}, one sigma ${m(sigmaHorizontalM)} in plan and ${m(sigmaVerticalM)} in height; every point of it shares that`;
}
