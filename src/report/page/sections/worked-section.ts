import type { WorkedPoint, WorkingStep } from '../../../records/working-step.js';
import type { PageFacts } from '../../../records/reports/parts/page-facts.js';
import { markup, together } from '../markup.js';
import type { Markup } from '../markup.js';
import type { PageSection } from '../page.js';

/** So many columns, two spaces and more between them, make a line one of a table. */
const LEAST_COLUMNS = 4;

/** Steps as they are printed by --explain: spaces stand as they are, long lines wrap, and tables scroll sideways; null on the page of a whole run. */
export function workedSection({ worked }: Pick<PageFacts, 'worked'>): PageSection | null {
  return worked === undefined || worked.length === 0
    ? null
    : { id: 'worked', heading: 'Worked step by step', body: workedSteps(worked) };
}

function workedSteps(worked: readonly WorkedPoint[]): Markup {
  return together(
    worked.map(
      ({ title, steps }) => markup`<h3>${title}</h3>
${together(
  steps.map(
    (step, index) => markup`<h4>${String(index + 1)}. ${step.title}</h4>
<p>${step.formula}</p>
${workedLines(step)}
<p>${step.source}</p>
`,
  ),
)}`,
    ),
  );
}

function workedLines({ substitution, result }: WorkingStep): Markup {
  const pieces: { readonly isTable: boolean; readonly lines: string[] }[] = [];
  for (const line of [...substitution, ...result.map((text) => `= ${text}`)]) {
    const isTable = line.trim().split(/ {2,}/u).length >= LEAST_COLUMNS;
    const last = pieces.at(-1);
    if (last?.isTable === isTable) last.lines.push(line);
    else pieces.push({ isTable, lines: [line] });
  }
  return together(
    pieces.map(({ isTable, lines }) =>
      isTable
        ? markup`<div class="worked columns" tabindex="0" role="group" aria-label="Numbers in columns">${lines.join('\n')}</div>`
        : markup`<p class="worked">${lines.join('\n')}</p>`,
    ),
  );
}
