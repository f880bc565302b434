import { largestOf } from '../../core/numeric/extremes.js';
import { movementWay } from '../../core/quality/register/movement-way.js';
import { entryAt } from '../../records/present.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { RegisterReport, RegisterRow } from '../../records/reports/register-report.js';
import { wideFigure } from '../figures/figure.js';
import { REGISTER_HEIGHT, REGISTER_WIDTH, registerDrawing } from '../figures/drawings/register-drawing.js';
import { answerWord } from '../page/words/answer-word.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, counted, fixed, millimetres, trueMinus } from '../page/words/numbers.js';
import { surveyLines } from '../page/words/survey-words.js';
import { page } from '../page/page.js';
import { filesSection, kickerOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { table } from '../page/table.js';
import { warningsSection } from '../page/sections/warnings-section.js';

/** Figures of a page: those that moved before others. */
const MOST_FIGURES = 12;
const GRAVITY: Readonly<Record<RegisterRow['verdict'], number>> = { no: 2, review: 1, within: 0 };

/** The page of a register of control: one self-contained HTML file as text. */
export function registerPage(report: RegisterReport): string {
  const sections: readonly (PageSection | null)[] = [
    {
      id: 'findings',
      heading: 'What moved',
      body: markup`<ul>${report.findings.map((text) => markup`<li>${trueMinus(text)}</li>`)}</ul>`,
    },
    { id: 'register', heading: 'Register', body: together([registerTable(report), reasonsTable(report)]) },
    { id: 'charts', heading: 'Over the set-ups', body: charts(report) },
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'A mark that is wrong from its first day has not moved, and shows nothing here. Nor does ground that moves with the base.',
        'Where something moved, nothing measured from it since then is to be used before it was checked.',
        ...CAUTIONS.slice(2),
      ]),
    },
  ];
  return page({
    title: report.title ?? 'Control over the days',
    kicker: kickerOf('Control over the days of a job', report),
    verdict: verdict(report),
    sections: sections.filter((section) => section !== null),
    foot: 'Residuals are measured minus control along the axes of the system. This page loads nothing and runs nothing.',
  });
}

function verdict(report: RegisterReport): readonly Markup[] {
  const { answer, counts, firstDay, lastDay, rows, systemName } = report;
  const moved = rows.flatMap((row) => (row.movement === null ? [] : [{ row, ...row.movement }]));
  const [largest] = moved.toSorted((a, b) => Math.abs(b.sizeM) - Math.abs(a.sizeM));
  // Where times are stated, the line of the survey has the days.
  const days = report.surveyed === null ? `, ${firstDay} to ${lastDay}` : '';
  return [
    markup`<b>${answerWord(answer)}</b> ${counted(counts.marks, 'mark')} of the control in ${counted(counts.setUps, 'set-up')}${days}. System: ${systemName ?? 'not stated'}.`,
    ...surveyLines(report),
    largest === undefined
      ? markup`<b>Nothing is believed to have moved</b>, as far as these days show.`
      : markup`<b>Look first</b> at ${subject(largest.row)}: ${movedWords(moved, largest.row, report)}.`,
    largest === undefined
      ? markup`<b>Next.</b> Occupy each mark again at the next set-up: a register shows a movement only once it has been visited on both sides of it.`
      : largest.kind === 'alone'
        ? markup`<b>Next.</b> Look at the pole, antenna height, centring and point names of the set-up of ${largest.fromDay}, and use nothing measured with it before that.`
        : markup`<b>Next.</b> Occupy ${subject(largest.row)} again from another base, and use nothing measured from it since ${largest.fromDay} before that.`,
    markup`<b>Not done.</b> ${counts.leftOut === 0 ? '' : `${counted(counts.leftOut, 'occupation')} rejected or without a covariance, left out. `}Whether a mark is where the control has it is another check. Nothing was corrected.`,
  ];
}

/** Along which axes a mark or base has moved, the largest step first, each with its day where these differ. */
function movedWords(
  moved: readonly (NonNullable<RegisterRow['movement']> & { readonly row: RegisterRow })[],
  { what, id }: RegisterRow,
  { axisSigns }: RegisterReport,
): string {
  const own = moved
    .filter(({ row }) => row.what === what && row.id === id)
    .toSorted((a, b) => Math.abs(b.sizeM) - Math.abs(a.sizeM));
  const spanOf = ({ kind, fromDay }: (typeof own)[number]): string =>
    kind === 'step' ? `from ${fromDay} on` : `on ${fromDay} alone`;
  const areOfOneDay = new Set(own.map(spanOf)).size === 1;
  const parts = own.map(
    (one) =>
      `${millimetres(Math.abs(one.sizeM))} mm ${movementWay(one.row.axis, one.sizeM, axisSigns)}${areOfOneDay ? '' : ` ${spanOf(one)}`}`,
  );
  return `${parts.join(' and ')}${areOfOneDay ? ` ${spanOf(entryAt(own, 0))}` : ''}`;
}

function subject({ what, id }: Pick<RegisterRow, 'what' | 'id'>): Markup {
  return what === 'base' ? markup`base ${named(id)}` : named(id);
}

function registerTable({ rows, axisNames }: RegisterReport): Markup {
  return table({
    label: 'Register of control',
    caption: markup`<b>Register.</b> Measured minus control; of a base, the mean of its marks, those that moved among them. The interval holds the trend with 95 %. Sums are those of the control chart, whose limit is 5.`,
    columns: [
      { head: 'Mark or base', kind: 'words' },
      { head: 'Axis', kind: 'text' },
      { head: 'Verdict', kind: 'text' },
      { head: 'Set-ups', kind: 'number' },
      { head: 'Mean', unit: 'mm', kind: 'number' },
      { head: 'Spread', unit: 'mm', kind: 'number' },
      { head: 'Trend', unit: 'mm a day', kind: 'number' },
      { head: 'Trend, 95 %', unit: 'mm a day', kind: 'number' },
      { head: 'Sums', unit: 'up / down', kind: 'number' },
      { head: 'Moved from', kind: 'text' },
      { head: 'By', unit: 'mm', kind: 'number' },
      { head: 'Reasons', kind: 'codes' },
    ],
    rows: rows.map((row) => [
      subject(row),
      axisNames[row.axis],
      row.verdict === 'within' ? row.verdict : markup`<span class="no">${row.verdict}</span>`,
      String(row.values.length),
      millimetres(row.meanM),
      millimetres(row.spreadM),
      millimetres(row.trend?.slope ?? null, 3),
      row.trend?.interval == null
        ? UNKNOWN
        : `${millimetres(row.trend.interval.low, 3)} to ${millimetres(row.trend.interval.high, 3)}`,
      `${fixed(row.largestUpper, 1)} / ${fixed(row.largestLower, 1)}`,
      row.movement?.fromDay ?? UNKNOWN,
      millimetres(row.movement?.sizeM ?? null),
      row.reasons.join(', '),
    ]),
  });
}

function reasonsTable({ rows }: RegisterReport): Markup {
  const codes = [...new Set(rows.flatMap(({ reasons }) => reasons))].sort();
  if (codes.length === 0) return { html: '' };
  return table({
    label: 'What the reasons mean',
    caption: markup`<b>What the reasons mean.</b>`,
    columns: [
      { head: 'Reason', kind: 'text' },
      { head: 'Meaning', kind: 'prose' },
      { head: 'What mends it', kind: 'prose' },
    ],
    rows: codes.map((code) => [code, PROBLEM_CODES[code].meaning, PROBLEM_CODES[code].fix]),
  });
}

function charts(report: RegisterReport): Markup {
  const groups = new Map<string, RegisterRow[]>();
  for (const row of report.rows) {
    const key = `${row.what} ${row.id}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const gravest = (rows: readonly RegisterRow[]): number => largestOf(rows.map(({ verdict: word }) => GRAVITY[word]));
  const ordered = [...groups.values()].sort((a, b) => gravest(b) - gravest(a));
  const shown = ordered.slice(0, MOST_FIGURES);
  const system = report.systemName ?? 'the system';
  const pieces = shown.map((rows, index) => {
    const first = entryAt(rows, 0);
    const name = first.what === 'base' ? `base ${first.id}` : first.id;
    return wideFigure(
      {
        id: `register-${String(index + 1)}`,
        title: `${name}: residuals and control chart over the set-ups`,
        description: `At the left residuals in millimetres along the axes of ${system}, at the right the sums of the control chart in sigmas, upwards above the line and downwards below; dashed: the limit.`,
        width: REGISTER_WIDTH,
        height: REGISTER_HEIGHT,
        body: registerDrawing(`register-${String(index + 1)}`, rows, report),
      },
      index + 1,
      markup`${subject(first)}: residuals (left; measured minus control, axes of ${system}) and sums of the control chart (right; in sigmas, limit ${fixed(report.limit, 0)} dashed) over the set-ups in the order of time.${first.what === 'mark' && rows.some(({ movement }) => movement !== null) ? ' Crosses: where the control no longer holds.' : ''}${heldMarks(rows, report)}${setUpDays(first)}`,
    );
  });
  const left = ordered.length - shown.length;
  return together([
    ...pieces,
    left === 0
      ? { html: '' }
      : markup`<p class="small">${String(shown.length)} of ${String(ordered.length)} are drawn, those that moved first; the data file has all.</p>`,
  ]);
}

/** Marks that moved are in the mean of their base, and take it along by their share: its own step would be a movement of the base. */
function heldMarks(rows: readonly RegisterRow[], report: RegisterReport): Markup | null {
  const first = entryAt(rows, 0);
  if (first.what === 'mark' || rows.some(({ movement }) => movement !== null)) return null;
  const own = new Set(first.values.map(({ setUp }) => setUp));
  const moved = report.rows.filter(
    ({ what, movement, values }) => what === 'mark' && movement !== null && values.some(({ setUp }) => own.has(setUp)),
  );
  const ids = [...new Set(moved.map(({ id }) => id))];
  if (ids.length === 0) return null;
  return markup` Its mean holds ${ids.map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`)}, which moved: a step at the left is ${ids.length === 1 ? 'its' : 'their'} share of the mean, and no movement of the base.`;
}

function setUpDays({ values }: RegisterRow): string {
  return ` Set-up 1: ${entryAt(values, 0).day}; ${String(values.length)}: ${entryAt(values, values.length - 1).day}.`;
}
