import { markup } from '../markup.js';
import { plainInstants, trueMinus } from '../words/numbers.js';
import type { PageSection } from '../page.js';

/** The warnings of a run as a part of its page; null where there are none. */
export function warningsSection(warnings: readonly string[]): PageSection | null {
  return warnings.length === 0
    ? null
    : {
        id: 'warnings',
        heading: 'Warnings',
        body: markup`<ul>${warnings.map((text) => markup`<li>${plainInstants(trueMinus(text))}</li>`)}</ul>`,
      };
}
