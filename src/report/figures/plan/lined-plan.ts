import type { PlottedEllipse, PlottedLine } from '../../../records/reports/network-page-report.js';
import type { ReportAxis, ReportPlace } from '../../../records/reports/reduction-report.js';
import { clippedPath } from '../clipped-path.js';
import { label, linePath } from '../figure.js';
import { drawnMarks } from '../marks.js';
import type { DrawingContent } from '../figure.js';
import {
  ARROW_BELOW,
  ARROW_X,
  SCALE_BELOW,
  SECOND_SCALE_BELOW,
  groundLength,
  northArrow,
  planFrame,
  scaleBar,
} from './plan-frame.js';
import { roomInFrame } from './ellipse-room.js';
import { planView } from './plan-view.js';
import type { PlanView } from './plan-view.js';
import { placeLabels } from './place-labels.js';
import { roundBelow } from '../scales.js';
import type { Place, SymbolName } from '../shapes.js';
import { drawnLines } from './drawn-lines.js';
import type { LineCounts } from './drawn-lines.js';
import { densityMark } from './plan-figure.js';
import { ellipseDensity } from './ellipse-density.js';
import type { EllipseDensity } from './ellipse-density.js';
import { pickedBySpread } from './spread-out.js';
import { thinned } from '../thinned.js';
import { markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at } from '../../page/words/numbers.js';
import { shortText } from '../../page/words/visible-text.js';

/** A mark on the plan; a smaller rank is named first. Those of rank 0 and those in doubt are never thinned. */
export interface PlanMark {
  readonly place: ReportPlace;
  readonly name: string;
  readonly symbol: SymbolName;
  readonly classes: 'mark' | 'doubt' | 'bad' | 'base';
  readonly area: number;
  readonly rank: number;
  /** Largest half axis of the ellipse about it, metres; 0: none is drawn. */
  readonly ellipseM: number;
}

export interface LinedPlanContent {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly lines: readonly PlottedLine[];
  readonly marks: readonly PlanMark[];
  readonly ellipses: readonly (PlottedEllipse & { readonly classes: string; readonly stays?: boolean })[];
  /** Beside those of points, such as of lines between them: all are drawn, and no count has them; absent: none. */
  readonly besides?: readonly (PlottedEllipse & { readonly classes: string })[];
  /** Of lines that are as they should be so many are drawn beside those that meet control; absent: as many as there is room for. */
  readonly mostQuiet?: number;
  /** Closed lines, such as the hull of control. */
  readonly outlines?: readonly (readonly ReportPlace[])[];
}

/** A plan, and what its caption has to say of it. */
export interface LinedPlan {
  readonly drawing: DrawingContent;
  /** How many times larger than the ground ellipses are drawn; null: none is drawn. */
  readonly exaggeration: number | null;
  readonly markCount: number;
  readonly lineCount: number;
  /** Of the lines: how many fail, are in doubt, meet control, and are others, all and drawn. */
  readonly lineCounts: LineCounts;
  /** Of each line only the ends are drawn. */
  readonly areEndsOnly: boolean;
  /** How many ellipses are drawn, and how many stand for others. */
  readonly density: EllipseDensity<unknown>;
}

const NO_OUTLINES: readonly (readonly ReportPlace[])[] = [];
const NO_ELLIPSES: readonly never[] = [];
const WIDTH = 760;
const MOST_MARKS = 300;
/** Of more lines only the ends are drawn: hundreds from one base would be a sheaf that hides the plan. */
const MOST_WHOLE_LINES = 120;
const END_PX = 16;
/** Marks of one name this near to each other are one place. */
const SAME_PX = 12;
const MOST_NAMES = 150;
const LARGEST_ELLIPSE_PX = 30;
/** An ellipse reaches no farther than so much of the usual distance between marks, or many would cover the plan. */
const ELLIPSE_OF_SPACING = 0.4;
/** Half of the last decimal that is printed: nothing smaller is drawn. */
const LEAST_DRAWN_M = 5e-5;

/** Lines, ellipses and marks on the plan; what fails is drawn last and never left out. */
export function linedPlan(content: LinedPlanContent): LinedPlan {
  const { id, axes } = content;
  const view = planView(
    [...content.marks.map(({ place }) => place), ...(content.outlines ?? NO_OUTLINES).flat()],
    axes,
    WIDTH,
    50,
  );
  const { lines, lineCounts } = drawnLines(content.lines, content.mostQuiet ?? null, view);
  const density = ellipseDensity(content.ellipses, {
    placeOf: ({ place }) => view.place(place),
    sizeM: ({ summary }) => summary.ellipseMajor95M,
    stays: ({ stays }) => stays === true,
  });
  // An ellipse without its mark would be an open sign, which means another thing.
  const withEllipse = new Set(density.drawn.map(({ place }) => keyOf(place)));
  const marks = fewer(
    content.marks,
    ({ place }) => view.place(place),
    ({ place, rank, classes }) => rank === 0 || classes === 'doubt' || withEllipse.has(keyOf(place)),
    MOST_MARKS,
  );
  const besides = content.besides ?? NO_ELLIPSES;
  const drawn = [...density.drawn, ...besides];
  const largestM = [...content.ellipses, ...besides].reduce(
    (most, { summary }) => Math.max(most, summary.ellipseMajor95M),
    0,
  );
  const exaggeration =
    largestM >= LEAST_DRAWN_M
      ? Math.max(
          1,
          roundBelow(
            Math.min(largestEllipsePx(view, marks.length) / (largestM * view.pixelsPerMetre), roomInFrame(drawn, view)),
          ),
        )
      : null;
  return {
    exaggeration,
    markCount: marks.length,
    lineCount: lines.length,
    lineCounts,
    density,
    areEndsOnly: lines.length > MOST_WHOLE_LINES,
    drawing: {
      id,
      title: content.title,
      description: content.description,
      width: WIDTH,
      height: view.height,
      body: planBody(content, view, lines, marks, exaggeration, { drawn, squares: density.squares }),
    },
  };
}

function keyOf({ first, second }: ReportPlace): string {
  return `${String(first)} ${String(second)}`;
}

/** A line, or of many its two ends, which point to each other and leave the plan between them open. */
function lineOrEnds(a: Place, b: Place, isEndsOnly: boolean): string {
  const share = isEndsOnly ? END_PX / Math.hypot(b.x - a.x, b.y - a.y) : 1;
  if (share >= 0.5) return `M${at(a.x)} ${at(a.y)}L${at(b.x)} ${at(b.y)}`;
  const [x, y] = [share * (b.x - a.x), share * (b.y - a.y)];
  return `M${at(a.x)} ${at(a.y)}L${at(a.x + x)} ${at(a.y + y)}M${at(b.x)} ${at(b.y)}L${at(b.x - x)} ${at(b.y - y)}`;
}

function largestEllipsePx({ box: { left, right, top, bottom } }: PlanView, markCount: number): number {
  const spacing = Math.sqrt(((right - left) * (bottom - top)) / Math.max(1, markCount));
  return Math.min(LARGEST_ELLIPSE_PX, ELLIPSE_OF_SPACING * spacing);
}

function planBody(
  { id, outlines = NO_OUTLINES }: LinedPlanContent,
  view: PlanView,
  lines: readonly PlottedLine[],
  marks: readonly PlanMark[],
  exaggeration: number | null,
  density: Pick<EllipseDensity<LinedPlanContent['ellipses'][number]>, 'drawn' | 'squares'>,
): Markup {
  const { left, right, top, bottom } = view.box;
  const clip = `${id}-clip`;
  // Without ellipses none takes room.
  const ellipsePixels = (exaggeration ?? 0) * view.pixelsPerMetre;
  const pathOf = (answers: readonly PlottedLine['answer'][]): string =>
    lines
      .filter(({ answer }) => answers.includes(answer))
      .map(({ from, to }) => {
        const [a, b] = [view.place(from), view.place(to)];
        return lineOrEnds(a, b, lines.length > MOST_WHOLE_LINES);
      })
      .join('');
  return together([
    planFrame(view),
    markup`<clipPath id="${clip}"><rect x="${at(left)}" y="${at(top)}" width="${at(right - left)}" height="${at(bottom - top)}"/></clipPath><g clip-path="url(#${clip})">`,
    ...outlines.map((outline) => linePath(clippedPath(outline.map(view.place), true, view.box), 'axis dash')),
    linePath(pathOf(['within']), 'ray'),
    linePath(pathOf(['review']), 'inkline dotted'),
    linePath(pathOf(['no']), 'off'),
    ...density.squares.map((square) => densityMark(square, ellipsePixels)),
    ...density.drawn.map((ellipse) => ellipseMark(ellipse, view, ellipsePixels)),
    markup`</g>`,
    drawnMarks(
      id,
      [...marks]
        .sort((a, b) => b.rank - a.rank)
        // Whole areas: each sign of a size is drawn once.
        .map(({ place, symbol, classes, area }) => ({
          at: view.place(place),
          symbol,
          classes,
          area: Math.round(area),
        })),
    ),
    ...labelsOf(marks, density.drawn, view, ellipsePixels).map((placed) =>
      label(placed.x, placed.y, placed.text, placed.classes),
    ),
    northArrow(ARROW_X, bottom + ARROW_BELOW),
    scaleBar(
      left,
      bottom + SCALE_BELOW,
      view.pixelsPerMetre,
      0.25 * (right - left),
      (m) => `${groundLength(m)} of ground`,
    ),
    exaggeration === null
      ? { html: '' }
      : scaleBar(left, bottom + SECOND_SCALE_BELOW, ellipsePixels, 60, (m) => `${groundLength(m)} of an ellipse`),
  ]);
}

/** Names of what fails first, then of control, then of the others, each where there is room. */
function labelsOf(
  marks: readonly PlanMark[],
  ellipses: LinedPlanContent['ellipses'],
  view: PlanView,
  ellipsePixels: number,
): ReturnType<typeof placeLabels> {
  // A place that was occupied twice is named once.
  const named = new Set<string>();
  const ordered = [...marks]
    .sort((a, b) => a.rank - b.rank)
    .filter(({ place, name }) => {
      const { x, y } = view.place(place);
      const key = `${String(Math.round(x / SAME_PX))} ${String(Math.round(y / SAME_PX))} ${name}`;
      const isNew = !named.has(key);
      named.add(key);
      return isNew;
    });
  return placeLabels(
    ordered.slice(0, MOST_NAMES).map(({ place, name, area, ellipseM }) => ({
      at: view.place(place),
      text: shortText(name, 14),
      clear: Math.max(4, Math.sqrt(area) / 2, ellipseM * ellipsePixels),
    })),
    marks.map(({ place, area }) => ({ ...view.place(place), clear: Math.max(4, Math.sqrt(area) / 2) })),
    view.box,
    ellipses.map(({ place, summary }) => ({ ...view.place(place), clear: summary.ellipseMajor95M * ellipsePixels })),
  );
}

function ellipseMark(
  { place, summary, bearingDeg, classes }: LinedPlanContent['ellipses'][number],
  view: PlanView,
  pixels: number,
): Markup {
  const { x, y } = view.place(place);
  return markup`<ellipse class="${classes}" rx="${at(summary.ellipseMinor95M * pixels)}" ry="${at(summary.ellipseMajor95M * pixels)}" transform="translate(${at(x)} ${at(y)}) rotate(${at(bearingDeg)})"/>`;
}

/** All that must stay, and of the others so many, spread over the plan. */
function fewer<T>(
  items: readonly T[],
  placeOf: (item: T) => Place,
  stays: (item: T) => boolean,
  most: number,
): readonly T[] {
  return thinned(
    items,
    (item) => (stays(item) ? 'bad' : 'mark'),
    (others) => pickedBySpread(others, placeOf, Math.max(1, most - (items.length - others.length))),
  ).drawn;
}
