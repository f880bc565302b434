import type { WorkedPoint } from '../../../records/working-step.js';
import { markup, together } from '../markup.js';
import type { Markup } from '../markup.js';

/** Steps as they are printed by --explain: spaces stand as they are, long lines wrap. */
export function workedSection(worked: readonly WorkedPoint[]): Markup {
  return together(
    worked.map(
      ({ title, steps }) => markup`<h3>${title}</h3>
${together(
  steps.map(
    (step, index) => markup`<h4>${String(index + 1)}. ${step.title}</h4>
<p>${step.formula}</p>
<p class="worked">${[...step.substitution, ...step.result.map((line) => `= ${line}`)].join('\n')}</p>
<p>${step.source}</p>
`,
  ),
)}`,
    ),
  );
}
