import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';

/** A way to fill an area that is told from the others without colour. */
export interface Hatch {
  readonly key: string;
  /** Inside a square of eight units, in the ink of the page. */
  readonly marks: Markup;
}

/** Eight fillings, the first six from dark to light. */
export const HATCHES: readonly Hatch[] = [
  { key: 'solid', marks: markup`<rect class="ink" width="8" height="8"/>` },
  { key: 'rising', marks: markup`<path class="inkline" d="M-2 2L2-2M0 8L8 0M6 10L10 6"/>` },
  { key: 'crossed', marks: markup`<path class="inkline" d="M-2 2L2-2M0 8L8 0M6 10L10 6M-2 6L2 10M0 0L8 8M6-2L10 2"/>` },
  {
    key: 'dotted',
    marks: markup`<circle class="ink" cx="2" cy="2" r="1.1"/><circle class="ink" cx="6" cy="6" r="1.1"/>`,
  },
  { key: 'level', marks: markup`<path class="inkline" d="M0 2H8M0 6H8"/>` },
  { key: 'blank', marks: markup`<rect class="wash" width="8" height="8"/>` },
  { key: 'falling', marks: markup`<path class="inkline" d="M-2 6L2 10M0 0L8 8M6-2L10 2"/>` },
  { key: 'upright', marks: markup`<path class="inkline" d="M2 0V8M6 0V8"/>` },
];

/** The fillings of a drawing; `id` keeps them apart from those of another. */
export function hatchDefinitions(id: string): Markup {
  return markup`<defs>${together(HATCHES.map(({ key, marks }) => markup`<pattern id="${id}-${key}" width="8" height="8" patternUnits="userSpaceOnUse"><rect class="paper" width="8" height="8"/>${marks}</pattern>`))}</defs>`;
}
