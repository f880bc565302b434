import { entryAt, present } from '../../records/present.js';
import type {
  CheckReport,
  ReportCause,
  ReportCauses,
  ReportRepeatCause,
  ReportSingle,
} from '../../records/reports/check-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { lengthUnit, millimetresOrMore } from '../page/words/length-unit.js';
import { fixed, millimetres } from '../page/words/numbers.js';
import { table } from '../page/table.js';

const MOST_CAUSES = 200;
const MOST_NAMED = 12;
/** From ten kilometres on. */
const LEAST_KM_M = 10_000;
/** More is no more telling. */
const MOST_EVIDENCE = 9999;
/** Causes are called A, B and on; there are fewer of them than letters. */
const A = 65;

/** What the search for a cause concluded, with the causes and the single occupations it named. */
export function causesSection({ repeatCauses }: CheckReport, causes: ReportCauses): Markup {
  const isTie = causes.causes.some(({ isTied }) => isTied);
  const opening: Readonly<Record<ReportCauses['verdict'], string>> = {
    named: isTie
      ? 'More than one cause explains the residuals, and these residuals cannot tell apart those marked =. They are the likeliest of those tested, not a proof: confirm before anything is corrected.'
      : 'One cause explains the residuals best. It is the likeliest of those tested, not a proof: confirm it before anything is corrected.',
    'two-causes': 'No single cause explains the residuals; the two below together do.',
    'no-single-cause': 'No single cause explains the residuals.',
    'nothing-to-explain':
      'The residuals against control agree with their stated uncertainty; there is nothing to explain in them.',
    'too-few-values': 'There are too few values to look for a cause.',
  };
  const others =
    causes.verdict === 'nothing-to-explain' && repeatCauses.length > 0
      ? ' Repeats that disagree have causes of their own.'
      : '';
  return markup`<p>${opening[causes.verdict]}${others}</p>${causes.causes.length === 0 ? markup`` : causesTable(causes, causes.causes)}${causes.together.length === 0 ? markup`` : causesTable(causes, causes.together)}${causes.nearest === null ? markup`` : nearestText(causes.nearest)}${causes.singles.length === 0 ? markup`` : singlesTable(causes)}`;
}

function nearestText(nearest: ReportCause): Markup {
  return markup`<p>The nearest, which does not explain them: ${causeName(nearest)}; ${sizesOf(nearest)}; RMS ${rmsWords(nearest.rmsAfterM)} once it is taken off. To confirm: ${nearest.confirm}.</p>`;
}

function causesTable(
  { rmsBeforeM, together }: ReportCauses,
  causes: readonly (ReportCause & { readonly or?: readonly string[] })[],
): Markup {
  return table({
    label: 'Causes that explain the residuals',
    caption: markup`<b>${together.length > 0 ? 'Two causes that explain the residuals together.' : 'Causes that explain the residuals, best first.'}</b> RMS of all residuals together before any is taken off: ${rmsWords(rmsBeforeM)}. Evidence above 10 counts as very strong.`,
    columns: [
      { head: 'Cause', kind: 'prose' },
      { head: 'Size', unit: '± 95 %', kind: 'prose' },
      { head: 'RMS after', unit: 'mm', kind: 'number' },
      { head: 'Evidence', kind: 'number' },
      { head: 'To confirm', kind: 'prose' },
    ],
    rows: causes.map((cause) => [
      // No other cause looks the same.
      `${cause.isTied ? '= ' : ''}${[causeName(cause), ...(cause.or ?? [])].join('; or ')}`,
      sizesOf(cause),
      millimetresOrMore(cause.rmsAfterM),
      cause.gain > MOST_EVIDENCE ? `over ${String(MOST_EVIDENCE)}` : fixed(cause.gain, 1),
      cause.confirm,
    ]),
  });
}

function singlesTable({ singles, areSinglesEnough }: ReportCauses): Markup {
  return table({
    label: 'Single occupations that stand out',
    caption: markup`<b>Single occupations that stand out</b> once the nearest cause is taken off. ${areSinglesEnough ? 'Together they explain the residuals.' : 'Together they still do not explain the residuals.'}`,
    columns: [
      { head: 'Cause', kind: 'prose' },
      { head: 'Size', unit: '± 95 %', kind: 'prose' },
      { head: 'To confirm', kind: 'prose' },
    ],
    rows: singles.map((single) => [causeName(single), sizesOf(single), single.confirm]),
  });
}

function rmsWords(rmsM: number): string {
  const unit = lengthUnit(rmsM);
  return `${unit.write(rmsM)} ${unit.name}`;
}

/** A cause with what it is of. */
export function causeName({ title, subject }: ReportSingle): string {
  return subject === '' ? title : `${title} (${subject})`;
}

/** Its size, with the half-width of 95 %. */
export function sizesOf({ estimates }: ReportSingle): string {
  return estimates
    .map(({ name, value, halfWidth95, unit, decimals }) =>
      // Of another zone or of leading digits left off no one asks for millimetres.
      unit === 'm' && Math.abs(value) >= LEAST_KM_M
        ? `${name} ${fixed(value / 1000, 1)} km`
        : `${name === unit ? '' : `${name} `}${fixed(value, decimals)}${halfWidth95 === null ? '' : ` ± ${fixed(halfWidth95, decimals)}`}${unit === '' ? '' : ` ${unit}`}`,
    )
    .join(', ');
}

/** Why occupations of one point may disagree, each cause said once; nothing where none do. */
export function repeatCausesTable({ repeatCauses }: CheckReport): Markup {
  if (repeatCauses.length === 0) return { html: '' };
  const groups = byCause(repeatCauses);
  const letters = new Map(groups.map((same, index) => [entryAt(same, 0).title, String.fromCharCode(A + index)]));
  const said = table({
    label: 'What would make occupations disagree',
    caption: markup`<b>What would do that.</b> The likeliest for each point; leads, not proofs.`,
    columns: [
      { head: 'Cause', kind: 'text' },
      { head: 'What it is', kind: 'prose' },
      { head: 'Points', kind: 'prose' },
      { head: 'To confirm', kind: 'prose' },
    ],
    rows: groups.map((same) => {
      const { title, confirm } = entryAt(same, 0);
      return [present(letters.get(title), 'the letter of a cause'), title, pointNames(same), confirm];
    }),
  });
  const rows = table({
    label: 'Occupations that disagree',
    caption: markup`<b>Occupations that disagree.</b> Cause: its letter above.${repeatCauses.length > MOST_CAUSES ? ` The first ${String(MOST_CAUSES)} of ${String(repeatCauses.length)}.` : ''}`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Plan', unit: 'mm', kind: 'number' },
      { head: 'Height', unit: 'mm', kind: 'number' },
      { head: 'Cause', kind: 'text' },
      { head: 'Stands alone', kind: 'text' },
    ],
    rows: repeatCauses
      .slice(0, MOST_CAUSES)
      .map(({ pointId, planM, upM, title, odd }) => [
        named(pointId),
        millimetres(planM),
        millimetres(upM),
        present(letters.get(title), 'the letter of a cause'),
        odd ?? 'two cannot say',
      ]),
  });
  return markup`${said}${rows}`;
}

/** Points together whose likeliest cause is the same, in the order of their first. */
export function byCause(causes: readonly ReportRepeatCause[]): readonly (readonly ReportRepeatCause[])[] {
  const groups = new Map<string, ReportRepeatCause[]>();
  for (const one of causes) {
    const same = groups.get(one.title);
    if (same === undefined) groups.set(one.title, [one]);
    else same.push(one);
  }
  return [...groups.values()];
}

/** How many points there are, and the first of them by name. */
function pointNames(points: readonly ReportRepeatCause[]): Markup {
  const more = points.length - MOST_NAMED;
  return markup`${String(points.length)}: ${points.slice(0, MOST_NAMED).map(({ pointId }, index) => markup`${index === 0 ? '' : ', '}${named(pointId)}`)}${more > 0 ? ` and ${String(more)} more` : ''}`;
}
