import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { ReductionReport } from '../../records/reports/reduction-report.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { wideFigure } from '../figures/figure.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { occupationPanel } from '../page/sections/occupation-panel.js';
import { byNeed } from '../page/words/by-need.js';
import { page } from '../page/page.js';
import { kickerOf, titleOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { table } from '../page/table.js';
import { workedSection } from '../page/sections/worked-section.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { uncertaintyDrawing } from '../figures/drawings/uncertainty-drawing.js';
import { linkSection } from '../corrections/link-section.js';
import { basesSection } from './bases-section.js';
import { basisSection } from './basis-section.js';
import { planSection } from './plan-section.js';
import { pointsTable } from './points-table.js';
import { refusalsSection } from './refusals-section.js';
import { repeatsSection } from './repeats-section.js';
import { skySection } from './sky-section.js';
import { verdictLines } from './verdict-lines.js';

/** Epochs drawn on the whole page, so that it stays small; shared by its occupations. */
const MOST_EPOCHS = 8000;
const MOST_BARS = 24;

/** The page of a reduction: one self-contained HTML file as text. */
export function reductionPage(report: ReductionReport): string {
  const plan = planSection(report, 1);
  const refusals = refusalsSection(report, plan.figures + 1);
  const firstOfLink = plan.figures + refusals.figures + 1;
  const link = report.links.length === 0 ? null : linkSection(report.links, firstOfLink);
  const repeats = repeatsSection(report);
  const sections: readonly (PageSection | null)[] = [
    { id: 'plan-section', heading: 'Plan', body: plan.body },
    { id: 'points', heading: 'Points', body: together([pointsTable(report), reasonsTable(report.points)]) },
    report.edits.length === 0
      ? null
      : {
          id: 'edits',
          heading: 'Left out and renamed',
          body: markup`<p>What the job file changes of what was measured, each with its reason.</p><ul>${report.edits.map((text) => markup`<li>${text}</li>`)}</ul>`,
        },
    repeats === null ? null : { id: 'repeats', heading: 'Repeat occupations', body: repeats },
    { id: 'refusals', heading: 'Refused epochs', body: refusals.body },
    link === null ? null : { id: 'link', heading: 'The link', body: link.body },
    report.skies === undefined
      ? null
      : { id: 'sky', heading: 'The sky over doubtful occupations', body: skySection(report.skies) },
    { id: 'occupations', heading: 'Occupations', body: occupationsSection(report) },
    { id: 'bases', heading: 'Base correction', body: basesSection(report) },
    {
      id: 'uncertainty',
      heading: 'Where the uncertainty comes from',
      body: uncertaintySection(report, firstOfLink + (link?.figures ?? 0)), // Without ages it has none.,
    },
    workedSection(report),
    { id: 'basis', heading: 'Systems, settings and files', body: basisSection(report) },
    warningsSection(report.warnings),
    { id: 'cautions', heading: 'Cautions', body: cautionList(CAUTIONS) },
  ];
  return page({
    title: titleOf(report, report.title, 'Reduction of fixes', 'reduced step by step'),
    kicker: kickerOf('Reduction of satellite fixes to points', report, report.title),
    verdict: verdictLines(report),
    sections: sections.filter((section) => section !== null),
    foot: 'All lengths are metres unless a column says otherwise; azimuths run clockwise from true north; times are UTC. This page loads nothing and runs nothing.',
  });
}

/** The reasons that occur among the points, in words. */
function reasonsTable(points: readonly ReducedPoint[]): Markup {
  const codes = [...new Set(points.flatMap((point) => point.reasons))].sort();
  if (codes.length === 0) return markup`<p>No point has a reason for review.</p>`;
  return table({
    label: 'What the reasons mean',
    caption: markup`<b>What the reasons mean.</b>`,
    columns: [
      { head: 'Reason', kind: 'text' },
      { head: 'Points', kind: 'number' },
      { head: 'Meaning', kind: 'prose' },
      { head: 'What mends it', kind: 'prose' },
    ],
    rows: codes.map((code) => [
      code,
      String(new Set(points.flatMap((point) => (point.reasons.includes(code) ? [point.pointId] : []))).size),
      PROBLEM_CODES[code].meaning,
      PROBLEM_CODES[code].fix,
    ]),
  });
}

const NEED: Readonly<Record<ReducedPoint['verdict'], number>> = { rejected: 0, review: 1, accepted: 2 };

/** What is rejected first, then what is for review; of one kind in the order of time. */
function inNeed(occupations: ReductionReport['occupations']): ReductionReport['occupations'] {
  return byNeed(
    occupations,
    ({ verdict }) => NEED[verdict],
    () => 0,
  );
}

function occupationsSection({ occupations, occupationsLeftOut, frame }: ReductionReport): Markup {
  if (occupations.length === 0) return markup`<p>There is no occupation to show.</p>`;
  const each = Math.min(600, Math.floor(MOST_EPOCHS / occupations.length));
  const leftOut =
    occupationsLeftOut === 0
      ? ''
      : ` ${String(occupations.length)} of ${String(occupations.length + occupationsLeftOut)} are shown, those to look at first.`;
  return markup`<p>Offsets run east, north and up in the horizon of each point; frame ${frame.pointsName}. Dots are used epochs, crosses refused ones, the upright cross and the level line their robust mean, the dashed circle the stated 95 % radius. Refused epochs that lie far out are drawn at the edge; a circle larger than its figure leaves it. Where a drift or a step was found it is dashed in.${leftOut}</p>
<div class="stands">
${together(inNeed(occupations).map((occupation, index) => occupationPanel(`o${String(index + 1)}`, occupation, each, frame.pointsName)))}</div>`;
}

function uncertaintySection({ points, tolerance, frame }: ReductionReport, number: number): Markup {
  const stated = points.filter((point) => point.summary !== null && point.uncertainty !== null);
  if (stated.length === 0) return markup`<p>No point has a stated uncertainty.</p>`;
  const drawn = new Set(
    // Points without a figure come last.
    [...stated].sort((a, b) => (b.summary?.circle95M ?? 0) - (a.summary?.circle95M ?? 0)).slice(0, MOST_BARS),
  );
  const shown = stated.filter((point) => drawn.has(point));
  const few =
    shown.length === stated.length ? '' : ` The ${String(shown.length)} largest of ${String(stated.length)} are drawn.`;
  const joined = shown.some((point) => point.occupation.includes('+'))
    ? ' Of joined occupations each part is what the weights of the joining leave of it.'
    : '';
  return wideFigure(
    uncertaintyDrawing('parts', shown, tolerance),
    number,
    markup`Parts of the uncertainty, the least sure in plan first. The length of a bar is the stated 95 % figure in millimetres, in the local horizon of each point, frame ${frame.pointsName}; its parts are shares of the variance, since variances add and sigmas do not. “Age” is that of the corrections, “bend” what a wrong base coordinate did to the vectors.${joined}${few}`,
  );
}
