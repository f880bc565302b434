import type { ReportAxis, ReportPlace } from '../../../records/reports/reduction-report.js';
import { label, linePath } from '../figure.js';
import type { DrawingContent } from '../figure.js';
import { NO_MARKUP, markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at } from '../../page/words/numbers.js';
import { baseMarks } from './plan-figure.js';
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
import { basesByPlace } from './one-place.js';
import { clippedPath } from '../clipped-path.js';
import { farWords, planExtent } from './plan-extent.js';
import { planView } from './plan-view.js';
import type { PlanView } from './plan-view.js';
import { placeLabels } from './place-labels.js';
import type { PlacedLabel, WantedLabel } from './place-labels.js';
import { MOST_CIRCLES, exaggerationOf, hasCircles, reaches } from './residual-scale.js';
import type { ResidualVector } from './residual-scale.js';
import { drawnMarks } from '../marks.js';
import type { Place } from '../shapes.js';
import { pickedBySpread } from './spread-out.js';
import { thinned, thinWords } from '../thinned.js';
import type { MarkClass } from '../thinned.js';
import { shortText } from '../../page/words/visible-text.js';

export interface ResidualPlanContent {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly bases: readonly { readonly id: string; readonly place: ReportPlace | null }[];
  readonly vectors: readonly ResidualVector[];
  /** Closed lines, such as the hull of control. */
  readonly outlines: readonly (readonly ReportPlace[])[];
  /** What those are that are as they should be: `within`. */
  readonly goodWord: string;
}

export interface ResidualPlan {
  readonly drawing: DrawingContent;
  /** What the caption says of arrows, of circles and of what is left out; begins with a comma or is empty. */
  readonly arrowWords: string;
  readonly thinWords: string;
  /** Whether limits and 95 % are drawn about any residual, and whether of those that fail alone. */
  readonly circles: { readonly limits: boolean; readonly spreads: boolean; readonly areOfFailing: boolean };
}

const LEAST_SPAN_M = 50;
const WIDTH = 760;
const MOST_GOOD = 400;
const ARROWS: Readonly<Record<MarkClass, string>> = { mark: 'blue', doubt: 'inkline', bad: 'off' };

interface DrawnVector {
  readonly vector: ResidualVector;
  readonly from: Place;
  readonly to: Place | null;
}

/** Residual vectors on the plan, drawn from the known place the way they point, larger than they are. */
export function residualPlan(content: ResidualPlanContent): ResidualPlan {
  const { id, title, description, axes, bases, vectors, outlines } = content;
  const extent = planExtent(vectors, axes, ({ place }) => place);
  const ground = [...extent.near.map(({ place }) => place), ...bases.flatMap(({ place }) => place ?? [])];
  const bare = planView(ground, axes, WIDTH, LEAST_SPAN_M);
  const few = thinned(
    extent.near,
    ({ classes }) => classes,
    (good) => pickedBySpread(good, ({ place }) => bare.place(place), MOST_GOOD),
  );
  const scale = exaggerationOf(few.drawn, axes, bare.pixelsPerMetre);
  const view = planView([...ground, ...reaches(few.drawn, axes, scale.factor)], axes, WIDTH, LEAST_SPAN_M);
  const drawn = few.drawn.map((vector) => drawnVector(vector, view, scale.factor));
  const stations = basesByPlace(bases, view);
  const labels = labelsOf(drawn, stations, view);
  return {
    arrowWords: scale.words,
    circles: {
      limits: few.drawn.some((vector) => vector.limitM !== null && isRinged(vector, few.drawn.length, scale.factor)),
      spreads: few.drawn.some(
        (vector) => vector.circle95M !== null && isRinged(vector, few.drawn.length, scale.factor),
      ),
      areOfFailing: few.drawn.length > MOST_CIRCLES,
    },
    thinWords: `${thinWords(few, content.goodWord, 'spread over the plan')}${farWords(extent.far.map(({ name }) => name))}`,
    drawing: {
      id,
      title,
      description,
      width: WIDTH,
      height: view.height,
      body: together([
        planFrame(view),
        ...baseMarks(stations, failingPlaces(drawn)),
        ...outlines.map((outline) => linePath(clippedPath(outline.map(view.place), true, view.box), 'axis dash')),
        ...(scale.factor === null ? [] : clipped(id, view, circles(drawn, scale.factor * view.pixelsPerMetre))),
        drawnMarks(
          id,
          drawn.map(({ vector: { symbol, classes }, from }) => ({
            at: from,
            symbol,
            classes,
            area: classes === 'bad' ? 60 : 30,
          })),
        ),
        ...(['mark', 'doubt', 'bad'] as const).map((classes) =>
          linePath(
            drawn
              .filter(({ vector }) => (vector.arrow ?? vector.classes) === classes) // As its mark.
              .map(({ from, to }) => (to === null ? '' : arrowPath(from, to)))
              .join(''),
            ARROWS[classes],
          ),
        ),
        ...labels.map((placed) => label(placed.x, placed.y, placed.text, placed.classes)),
        ...scaleBars(view, scale.factor),
      ]),
    },
  };
}

function failingPlaces(drawn: readonly DrawnVector[]): readonly Place[] {
  return drawn.filter(({ vector }) => vector.classes === 'bad').map(({ from }) => from);
}

function isRinged(vector: ResidualVector, count: number, factor: number | null): boolean {
  return factor !== null && vector.residual !== null && hasCircles(vector, count);
}

function drawnVector(vector: ResidualVector, view: PlanView, exaggeration: number | null): DrawnVector {
  const { residual, place } = vector;
  const to =
    residual === null || exaggeration === null
      ? null
      : view.place({
          first: place.first + residual.first * exaggeration,
          second: place.second + residual.second * exaggeration,
        });
  return { vector, from: view.place(place), to };
}

function clipped(id: string, { box }: PlanView, pieces: readonly Markup[]): readonly Markup[] {
  const { left, right, top, bottom } = box;
  return [
    markup`<clipPath id="${id}-clip"><rect x="${at(left)}" y="${at(top)}" width="${at(right - left)}" height="${at(bottom - top)}"/></clipPath><g clip-path="url(#${id}-clip)">`,
    ...pieces,
    markup`</g>`,
  ];
}

/** About where a point should be its limit, dashed; about where it was measured its 95 % circle. */
function circles(drawn: readonly DrawnVector[], pixelsPerMetre: number): readonly Markup[] {
  const shown = drawn.filter(({ vector }) => hasCircles(vector, drawn.length));
  const around = (place: Place, radiusM: number | null, classes: string): Markup =>
    radiusM === null
      ? NO_MARKUP
      : markup`<circle class="${classes}" cx="${at(place.x)}" cy="${at(place.y)}" r="${at(radiusM * pixelsPerMetre)}"/>`;
  return [
    ...shown.map(({ vector, from, to }) => (to === null ? NO_MARKUP : around(from, vector.limitM, 'limit'))),
    ...shown.map(({ vector, to }) => (to === null ? NO_MARKUP : around(to, vector.circle95M, 'spread'))),
  ];
}

/** Bases, then what fails, then what is in doubt, of each the longest residual; names without room are left out. */
function labelsOf(
  drawn: readonly DrawnVector[],
  stations: readonly { readonly id: string; readonly at: Place }[],
  view: PlanView,
): readonly PlacedLabel[] {
  const order = { bad: 0, doubt: 1, mark: 2 };
  const length = ({ from, to }: DrawnVector): number => (to === null ? 0 : Math.hypot(to.x - from.x, to.y - from.y));
  const ordered = [...drawn].sort((a, b) => order[a.vector.classes] - order[b.vector.classes] || length(b) - length(a));
  return placeLabels(
    [...stations.map((base) => ({ at: base.at, text: shortText(base.id, 14), clear: 7 })), ...uniqueNames(ordered)],
    [
      ...stations.map((base) => ({ ...base.at, clear: 8 })),
      ...drawn.flatMap(({ from, to }) => (to === null ? [from] : [from, to])),
    ],
    view.box,
  );
}

function scaleBars(view: PlanView, exaggeration: number | null): readonly Markup[] {
  const { left, right, bottom } = view.box;
  return [
    northArrow(ARROW_X, bottom + ARROW_BELOW),
    scaleBar(
      left,
      bottom + SCALE_BELOW,
      view.pixelsPerMetre,
      0.25 * (right - left),
      (lengthM) => `${groundLength(lengthM)} of ground`,
    ),
    exaggeration === null
      ? NO_MARKUP
      : scaleBar(
          left,
          bottom + SECOND_SCALE_BELOW,
          view.pixelsPerMetre * exaggeration,
          60,
          (lengthM) => `${groundLength(lengthM)} of a residual`,
        ),
  ];
}

/** A point that was compared several times needs its name once. */
function uniqueNames(drawn: readonly DrawnVector[]): readonly WantedLabel[] {
  const seen = new Set<string>();
  return drawn.flatMap(({ vector, from }) => {
    if (seen.has(vector.name)) return [];
    seen.add(vector.name);
    return [{ at: from, text: shortText(vector.name, 14), clear: 5 }];
  });
}

function arrowPath(
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
): string {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (length < 1) return '';
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const head = Math.min(6, 0.5 * length);
  const wing = (side: 1 | -1): string =>
    `${at(to.x - head * ux + side * 0.4 * head * uy)} ${at(to.y - head * uy - side * 0.4 * head * ux)}`;
  return `M${at(from.x)} ${at(from.y)}L${at(to.x)} ${at(to.y)}M${wing(1)}L${at(to.x)} ${at(to.y)}L${wing(-1)}`;
}
