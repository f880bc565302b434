import type { ReductionReport, ReportBase, ReportPlace } from '../../records/reports/reduction-report.js';
import { wideFigure } from '../figures/figure.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { fixed } from '../page/words/numbers.js';
import { farWords, planExtent } from '../figures/plan/plan-extent.js';
import { trueNorthWords } from '../figures/plan/plan-frame.js';
import { planFigure } from '../figures/plan/plan-figure.js';
import type { PlanDrawing, PlanPoint } from '../figures/plan/plan-figure.js';
import { SECOND_TALLEST } from '../figures/plan/plan-view.js';

const WIDTH = 760;
/** A detail is drawn of what lies so near to a base, as a share of the whole plan. */
const NEAR = 0.12;
const MOST_DETAILS = 3;

/** The plan of everything, and details where points crowd about a base. `from`: number of the first figure. */
export function planSection(
  report: ReductionReport,
  from: number,
): { readonly body: Markup; readonly figures: number } {
  const { points, bases } = report;
  const placed: PlanPoint[] = points.flatMap((point) => {
    const { gridFirst, gridSecond } = point.position ?? { gridFirst: null, gridSecond: null };
    return gridFirst === null || gridSecond === null
      ? []
      : [{ point, place: { first: gridFirst, second: gridSecond } }];
  });
  if (placed.length === 0) return { body: markup`<p>No point has a coordinate, so there is no plan.</p>`, figures: 0 };
  const withheld = points.length - placed.length;
  const { near, far } = planExtent(placed, report.frame.axes, ({ place }) => place);
  const whole = [...near.map(({ place }) => place), ...usedBases(bases).flatMap((base) => base.place ?? [])];
  const pieces = [
    plan(
      report,
      'plan',
      from,
      from,
      placed,
      whole,
      `Plan of the work.${withheld === 0 ? '' : ` ${String(withheld)} rejected have no coordinate and are not drawn.`}${farWords(far.map(({ point }) => point.pointId))}`,
    ),
  ];
  for (const { base, near: around } of details(placed, bases, spanM(whole, report))) {
    pieces.push(
      plan(
        report,
        `plan-${String(pieces.length)}`,
        from + pieces.length,
        from,
        placed,
        [...around, base.place ?? { first: 0, second: 0 }],
        `Detail about base ${base.id}.`,
      ),
    );
  }
  return { body: together(pieces), figures: pieces.length };
}

function plan(
  report: ReductionReport,
  id: string,
  number: number,
  from: number,
  points: readonly PlanPoint[],
  extent: readonly ReportPlace[],
  words: string,
): Markup {
  const { frame, bases } = report;
  const own = { id, axes: frame.axes, bases, points, extent, width: WIDTH };
  const drawn = planFigure(number === from ? own : { ...own, tallest: SECOND_TALLEST });
  return wideFigure(
    {
      id,
      title: words,
      description: `Grid ${frame.gridName} with grid north up. Triangles are bases, filled circles accepted points, open diamonds points for review, thin lines baselines where they are few, dotted lines equal distances from a base.`,
      width: WIDTH,
      height: drawn.height,
      body: drawn.body,
    },
    number,
    markup`${words} ${captionOf(drawn, report, number === from)}`,
  );
}

function captionOf(
  { exaggeration, thinWords, rays, hasDoubts, hasRays, areOnesForMany, trueNorthDeg }: PlanDrawing,
  { frame }: ReductionReport,
  isFirst: boolean,
): string {
  const [across, up] = frame.axes;
  const turned =
    across.direction === 'west' || up.direction === 'south'
      ? ` ${across.abbreviation} grows to the ${across.direction}, ${up.abbreviation} to the ${up.direction}; the map itself has north up.`
      : '';
  const ellipses =
    exaggeration === null
      ? ''
      : exaggeration === 1
        ? ' Ellipses are 95 %, as large as on the ground.'
        : ` Ellipses are 95 %, drawn ${fixed(exaggeration, 0)} times too large.`;
  const thinLines = {
    all: hasRays ? ' Thin lines: baselines.' : '',
    review: ' Thin lines: baselines of points for review.',
    none: ' Baselines are so many that none is drawn.',
  }[rays];
  return `${frame.gridName}; frame ${frame.pointsName}; north is grid north${trueNorthWords(trueNorthDeg)}.${turned}${isFirst ? ` Triangles: bases. Filled circles: accepted.${hasDoubts ? ' Open diamonds: for review.' : ''}${thinLines} Dotted: equal distance from a base.` : thinLines}${ellipses}${thinWords}${areOnesForMany ? ' Of a point that was occupied often one sign stands for all occupations of a verdict, the least sure.' : ''} Names without room are left out.`;
}

function usedBases(bases: readonly ReportBase[]): readonly ReportBase[] {
  const used = bases.filter((base) => base.farthestM !== null);
  return used.length === 0 ? bases : used;
}

function details(
  points: readonly PlanPoint[],
  bases: readonly ReportBase[],
  wholeM: number,
): readonly { readonly base: ReportBase; readonly near: readonly ReportPlace[] }[] {
  const limitM = NEAR * wholeM;
  return usedBases(bases)
    .flatMap((base) => {
      const near = points
        .filter(({ point }) => point.baseId === base.id && (point.baseline?.distanceM ?? Infinity) <= limitM)
        .map(({ place }) => place);
      return base.place !== null && near.length >= 4 && near.length < points.length ? [{ base, near }] : [];
    })
    .slice(0, MOST_DETAILS);
}

function spanM(places: readonly ReportPlace[], { frame }: ReductionReport): number {
  const span = (values: readonly number[]): number =>
    values.reduce((high, value) => Math.max(high, value), -Infinity) -
    values.reduce((low, value) => Math.min(low, value), Infinity);
  return Math.max(
    span(places.map(({ first }) => first)) * frame.axes[0].metresPerUnit,
    span(places.map(({ second }) => second)) * frame.axes[1].metresPerUnit,
  );
}
