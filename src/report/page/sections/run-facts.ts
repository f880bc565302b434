import type { PageFacts } from '../../../records/reports/parts/page-facts.js';
import { filesTable } from './files-table.js';
import { markup } from '../markup.js';
import type { Markup } from '../markup.js';
import { utcDate, utcTime } from '../words/numbers.js';
import type { PageSection } from '../page.js';

/** The line above a title: what the page is of, and what made it when. */
export function kickerOf(what: string, { toolVersion, timeMs }: PageFacts): string {
  return `${what} · Pegbook ${toolVersion}${timeMs === null ? '' : ` · made ${utcDate(timeMs)}, ${utcTime(timeMs).slice(0, 5)} UTC`}`;
}

/** The command that made a page. */
export function commandLine({ command }: PageFacts): Markup {
  return markup`<p class="small">Command: <code>pegbook ${command.join(' ')}</code></p>`;
}

/** The files a page rests on, and its command. */
export function filesSection(facts: PageFacts): PageSection {
  return { id: 'basis', heading: 'Files', body: markup`${filesTable(facts.files)}${commandLine(facts)}` };
}
