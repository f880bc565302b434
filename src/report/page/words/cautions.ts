import { markup } from '../markup.js';
import type { Markup } from '../markup.js';

/** What a page says to whoever will act on it. */
export const CAUTIONS: readonly string[] = [
  'A tight scatter is not accuracy. Check on control that does not depend on the base, before and after, and at the far edge of the work.',
  'The 95 % figures rest on a planning model and on the sigmas stated. They are as good as the model is on this ground.',
  'Boundary and cadastral work is reserved to licensed persons in most countries; local rules come first. This page is a computation, not a legal survey.',
  'Do not set out structures, drainage, rail or utilities, and do not give clearances or flood levels, from unchecked results of a single base.',
  'Heights depend on the geoid model and the vertical datum. Levels that matter need a tie to benchmarks.',
  'Keep the raw records and the settings. Never edit raw data; leave rows out with a reason.',
];

export function cautionList(cautions: readonly string[]): Markup {
  return markup`<ul class="cautions">
${cautions.map(
  (text) => markup`<li>${text}</li>
`,
)}</ul>`;
}
