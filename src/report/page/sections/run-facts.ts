import type { PageFacts } from '../../../records/reports/parts/page-facts.js';
import { filesTable } from './files-table.js';
import { markup } from '../markup.js';
import type { Markup } from '../markup.js';
import { utcDate, utcTime } from '../words/numbers.js';
import type { PageSection } from '../page.js';

/** The line above a title: what the page is of, of one point in which survey, and what made it when. */
export function kickerOf(
  what: string,
  { toolVersion, timeMs, onlyPoint }: PageFacts,
  survey: string | null = null,
): string {
  return `${what}${onlyPoint === undefined || survey === null ? '' : ` · ${survey}`} · Pegbook ${toolVersion}${timeMs === null ? '' : ` · made ${utcDate(timeMs)}, ${utcTime(timeMs).slice(0, 5)} UTC`}`;
}

/** The command that made a page. */
export function commandLine({ command }: PageFacts): Markup {
  return markup`<p class="small">Command: <code>pegbook ${command.join(' ')}</code></p>`;
}

/** The files a page rests on, and its command. */
export function filesSection(facts: PageFacts): PageSection {
  return { id: 'basis', heading: 'Files', body: markup`${filesTable(facts.files)}${commandLine(facts)}` };
}

/** The title of a page: that of the survey, else what it is; with --explain of the one point. */
export function titleOf({ onlyPoint }: PageFacts, survey: string | null, what: string, ofPoint: string): string {
  if (onlyPoint === undefined) return survey ?? what;
  const words = pointWords(onlyPoint);
  return `${words}${words === onlyPoint ? '' : ','} ${ofPoint}`;
}

/** POINT@OCCUPATION in words. */
export function pointWords(onlyPoint: string): string {
  const at = onlyPoint.lastIndexOf('@');
  return at <= 0 ? onlyPoint : `${onlyPoint.slice(0, at)}, occupation ${onlyPoint.slice(at + 1)}`;
}
