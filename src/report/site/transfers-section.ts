import { entryAt } from '../../records/present.js';
import type { SiteReport, SiteTransfer } from '../../records/reports/site-report.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import type { PageSection } from '../page/page.js';
import { fixed, kilometres, metres, millimetres } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** Rows of a table; between every two of many benchmarks there are thousands. */
const MOST_ROWS = 200;
const KINDS = [
  { kind: 'levelled', heading: 'along levelled lines' },
  { kind: 'benchmarks', heading: 'between two benchmarks' },
] as const;
const NEED = { within: 0, review: 1, no: 2 } as const;

/** Heights carried, those that are off most first; null where none were asked for. */
export function transfersSection({ transfers }: SiteReport): PageSection | null {
  if (transfers === undefined || transfers.rows.length === 0) return null;
  const tables = KINDS.flatMap(({ kind, heading }) => {
    const rows = worstFirst(transfers.rows, kind);
    return rows.length === 0 ? [] : transfersTable(rows, heading);
  });
  return {
    id: 'transfers',
    heading: 'Heights carried from point to point',
    body: markup`<p>Transferred is what was measured over the geoid, with the trend of the surface. The class of levelling allows ${fixed(transfers.classMm, 0)} mm for √km; the test is the misclosure over its sigma.</p>
${together(tables)}`,
  };
}

/** The first screen: how many are within the class, and the worst by name. */
export function transferLines({ transfers }: SiteReport): readonly Markup[] {
  if (transfers === undefined) return [];
  return KINDS.flatMap(({ kind, heading }) => {
    const rows = worstFirst(transfers.rows, kind);
    if (rows.length === 0) return [];
    const within = rows.filter(({ isWithinClass }) => isWithinClass).length;
    const beyond = rows.filter(({ answer }) => answer === 'no').length;
    const { fromId, toId, misclosureM, testValue } = entryAt(rows, 0);
    return [
      markup`<b>Heights carried ${heading}.</b> ${String(within)} of ${String(rows.length)} within ${fixed(transfers.classMm, 0)} mm √km, ${beyond === 0 ? 'none' : String(beyond)} beyond what its sigma allows. The worst: ${named(fromId)} to ${named(toId)}, ${millimetres(misclosureM)} mm, ${fixed(Math.abs(testValue), 2)} of its sigmas.`,
    ];
  });
}

function worstFirst(rows: readonly SiteTransfer[], own: SiteTransfer['kind']): readonly SiteTransfer[] {
  return rows
    .filter(({ kind }) => kind === own)
    .toSorted((a, b) => NEED[b.answer] - NEED[a.answer] || Math.abs(b.testValue) - Math.abs(a.testValue));
}

function transfersTable(rows: readonly SiteTransfer[], heading: string): Markup {
  const shown = rows.slice(0, MOST_ROWS);
  const few =
    shown.length < rows.length
      ? ` ${String(shown.length)} of ${String(rows.length)} are shown, the worst; the table of --transfers has all.`
      : '';
  return table({
    label: `Heights carried ${heading}`,
    caption: markup`<b>Heights carried ${heading}.</b> Misclosure: transferred minus known, the worst first.${few}`,
    columns: [
      { head: 'From', kind: 'words' },
      { head: 'To', kind: 'words' },
      { head: 'Distance', unit: 'km', kind: 'number' },
      { head: 'Known', unit: 'm', kind: 'number' },
      { head: 'Transferred', unit: 'm', kind: 'number' },
      { head: 'Misclosure', unit: 'mm', kind: 'number' },
      { head: 'Sigma', unit: 'mm', kind: 'number' },
      { head: 'Test', kind: 'number' },
      { head: 'Class', unit: 'mm', kind: 'number' },
      { head: 'Verdict', kind: 'text' },
    ],
    rows: shown.map((row) => [
      named(row.fromId),
      named(row.toId),
      kilometres(row.distanceM),
      metres(row.knownM),
      metres(row.transferredM),
      millimetres(row.misclosureM),
      millimetres(row.sigmaM),
      fixed(row.testValue, 2),
      millimetres(row.classLimitM),
      row.answer === 'within' ? row.answer : markup`<span class="no">${row.answer}</span>`,
    ]),
  });
}
