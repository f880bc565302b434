import type { SiteSky } from '../../records/sky/site-sky.js';

/** A page of more sites is read by nobody. */
const MOST_DRAWN = 12;

/** The sites of a plan that its page draws: those that meet the limits for the shortest time first, of equals in the order of the plan. */
export function sitesToDraw(skies: readonly SiteSky[]): readonly SiteSky[] {
  return skies.toSorted((a, b) => goodMs(a) - goodMs(b)).slice(0, MOST_DRAWN);
}

function goodMs({ windows }: SiteSky): number {
  return windows.reduce((sum, { isGood, fromMs, toMs }) => sum + (isGood ? toMs - fromMs : 0), 0);
}
