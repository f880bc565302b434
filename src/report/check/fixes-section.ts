import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { CheckReport, ReportFixes, ReportRefusal } from '../../records/reports/check-report.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import type { PageSection } from '../page/page.js';
import { counted, fixed } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** Stands named in a sentence, and in a row. */
const MOST_SAID = 6;
const MOST_NAMED = 24;

/** Raw fixes against the limits: what is refused, where, and which stands make no point; null where none were given. */
export function fixesSection({ fixes }: CheckReport): PageSection | null {
  if (fixes === null) return null;
  return {
    id: 'fixes',
    heading: 'Fixes against the limits',
    body: together([
      markup`<p>${acceptedWords(fixes)}</p>`,
      refusalTable('Epochs refused', 'Epochs refused', 'Epochs', fixes.epochs),
      refusalTable('Stands that make no point', 'Stands that make no point, or are in doubt', 'Stands', fixes.stands),
    ]),
  };
}

/** The lines of the first screen: how many are accepted, and what fails as a whole. */
export function fixesLines({ fixes }: CheckReport): readonly Markup[] {
  if (fixes === null) return [];
  const failing = fixes.stands.map(
    ({ code, at }, index) =>
      markup`${index === 0 ? '' : '; '}${PROBLEM_CODES[code].meaning}: ${standNames(at, MOST_SAID)}`,
  );
  return [
    markup`<b>Fixes.</b> ${acceptedWords(fixes)}${failing.length === 0 ? '' : markup` Of the stands: ${failing}.`}`,
  ];
}

/** What to do where stands fail; null: none does. */
export function fixesNext({ fixes }: CheckReport): string | null {
  const first = fixes?.stands[0];
  if (first === undefined) return null;
  return 'Measure the stands named again, or settle what is in doubt there: what mends each stands in the tables below.';
}

function acceptedWords({ seen, accepted, standCount, epochs }: ReportFixes): string {
  const share = seen === 0 ? '' : ` (${fixed((100 * accepted) / seen, 1)} %)`;
  const [most] = epochs;
  return `${String(accepted)} of ${counted(seen, 'epoch')} accepted${share}, at ${counted(standCount, 'stand')}.${most === undefined ? '' : ` Refused most: ${PROBLEM_CODES[most.code].meaning} (${String(most.count)}).`}`;
}

function refusalTable(label: string, caption: string, head: string, refusals: readonly ReportRefusal[]): Markup {
  if (refusals.length === 0) return { html: '' };
  return table({
    label,
    caption: markup`<b>${caption}.</b>`,
    columns: [
      { head: 'Reason', kind: 'text' },
      { head, kind: 'number' },
      { head: 'Meaning', kind: 'prose' },
      { head: 'At', unit: 'stand and epochs', kind: 'prose' },
      { head: 'What mends it', kind: 'prose' },
    ],
    rows: refusals.map(({ code, count, at }) => [
      code,
      String(count),
      PROBLEM_CODES[code].meaning,
      standNames(at, MOST_NAMED),
      PROBLEM_CODES[code].fix,
    ]),
  });
}

function standNames(at: ReportRefusal['at'], most: number): Markup {
  const more = at.length > most ? ` and ${String(at.length - most)} more` : '';
  return markup`${at.slice(0, most).map(({ stand, count }, index) => markup`${index === 0 ? '' : ', '}${named(stand)}${count === 0 ? '' : ` (${String(count)})`}`)}${more}`;
}
