import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import type { ReportAxis, ReportBase, ReportPlace } from '../../../records/reports/reduction-report.js';
import { label, linePath } from '../figure.js';
import { NO_MARKUP, markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at } from '../../page/words/numbers.js';
import { entryAt } from '../../../records/present.js';
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
import { planView } from './plan-view.js';
import type { PlanView } from './plan-view.js';
import { classOf, wordsOf } from './plan-words.js';
import type { DrawnPoint, DrawnRing } from './plan-words.js';
import { roundBelow } from '../scales.js';
import { clippedPath } from '../clipped-path.js';
import { drawnMarks } from '../marks.js';
import type { Mark } from '../marks.js';
import { symbolPath } from '../shapes.js';
import type { Place } from '../shapes.js';
import { apart, basesByPlace } from './one-place.js';
import { MOST_LARGEST, densityWords, ellipseDensity } from './ellipse-density.js';
import type { EllipseDensity } from './ellipse-density.js';
import { pickedBySpread } from './spread-out.js';
import { thinned, thinWords } from '../thinned.js';

/** A point with its place on the grid. */
export interface PlanPoint {
  readonly point: ReducedPoint;
  readonly place: ReportPlace;
}

export interface PlanContent {
  /** Of the drawing it stands in. */
  readonly id: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly bases: readonly ReportBase[];
  readonly points: readonly PlanPoint[];
  /** What decides the piece of ground shown; everything on it is drawn. */
  readonly extent: readonly ReportPlace[];
  readonly width: number;
  /** The most height of what is drawn, of its width; absent: that of every plan. */
  readonly tallest?: number;
}

/** A plan, and what its caption has to say of it. */
export interface PlanDrawing {
  readonly body: Markup;
  readonly height: number;
  /** How many times larger than the ground ellipses are drawn; null: none is drawn. */
  readonly exaggeration: number | null;
  /** Bearing of true north from grid north in the middle of the points; null: not known. */
  readonly trueNorthDeg: number | null;
  readonly thinWords: string;
  readonly rays: 'all' | 'review' | 'none';
  /** Whether a sign of a point for review, and a baseline, is drawn. */
  readonly hasDoubts: boolean;
  readonly hasRays: boolean;
  /** A point was occupied so often that one sign stands for all its occupations of a verdict. */
  readonly areOnesForMany: boolean;
}

const NO_PLACES: readonly Place[] = [];
const MOST_ELLIPSES = 250;
/** Half of the last decimal that is printed: nothing smaller is drawn. */
const LEAST_DRAWN_M = 5e-5;
const LARGEST_ELLIPSE_PX = 26;
/** Of more points only those that are not accepted show their baselines, and of more of these none: many make a sheaf that hides the rest. */
const MOST_RAYS = 24;
/** Rings closer than this are not drawn. */
const CLOSEST_RINGS_PX = 22;
/** The closest set of rings with so much room between them is drawn. */
const ROOMY_RINGS_PX = 60;

/** Bases, baselines, rings of equal distance, points and their 95 % ellipses on the grid. */
export function planFigure({ id, axes, bases, points, extent, width, tallest }: PlanContent): PlanDrawing {
  const view = planView(extent, axes, width, 50, tallest);
  const shown = points
    .map(({ point, place }) => ({ point, at: view.place(place) }))
    .filter((drawn) => view.isInside(drawn.at));
  const thin = thinned(shown, classOf, (good) => withLargest(good, MOST_ELLIPSES));
  const { drawn: few, areOnesForMany } = apart(thin.drawn);
  const density = densityOf(few, thin.drawn, shown);
  const exaggeration = exaggerationOf(few, view);
  const stations = basesByPlace(bases, view);
  const rays = raysOf(few);
  const rings = stations.flatMap(({ base }) => ringsOf(base, view));
  const { labels, ringWords } = wordsOf(
    // Without ellipses none takes room.
    { few, shown, stations, rings, ellipsePixelsPerMetre: (exaggeration ?? 0) * view.pixelsPerMetre },
    view,
  );
  const { left, right, top, bottom } = view.box;
  const trueNorthDeg = trueNorthOf(shown);
  return {
    height: view.height,
    exaggeration,
    trueNorthDeg,
    thinWords: `${thinWords(thin, 'accepted', 'spread over the plan')}${exaggeration === null ? '' : densityWords(density)}`,
    rays: rays.of,
    hasDoubts: few.some((one) => classOf(one) !== 'mark'),
    hasRays: raysPath(rays.drawn, bases, view) !== '',
    areOnesForMany,
    body: together([
      planFrame(view),
      markup`<clipPath id="${id}-clip"><rect x="${at(left)}" y="${at(top)}" width="${at(right - left)}" height="${at(bottom - top)}"/></clipPath><g clip-path="url(#${id}-clip)">`,
      ...rings.map(({ drawn, isClosed }) => linePath(clippedPath(drawn, isClosed, view.box), 'ring')),
      linePath(raysPath(rays.drawn, bases, view), 'ray'),
      ...(exaggeration === null ? [] : ellipsesOf(density, exaggeration * view.pixelsPerMetre)),
      markup`</g>`,
      // A base hides no point that stands on it.
      ...baseMarks(stations.filter((base) => view.isInside(base.at))),
      drawnMarks(
        id,
        few.map(({ point, at: place }) => verdictMark(point, place)),
      ),
      ...[...ringWords, ...labels].map((placed) => label(placed.x, placed.y, placed.text, placed.classes)),
      northArrow(ARROW_X, bottom + ARROW_BELOW, trueNorthDeg),
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
            (lengthM) => `${groundLength(lengthM)} of an ellipse`,
          ),
    ]),
  };
}

/** Of the points drawn and of those whose sign is left out: these count among the ellipses all the same. */
function densityOf(
  few: readonly DrawnPoint[],
  marked: readonly DrawnPoint[],
  shown: readonly DrawnPoint[],
): EllipseDensity<DrawnPoint> {
  const withMark = new Set(marked);
  return ellipseDensity(
    [...few, ...shown.filter((one) => !withMark.has(one))].filter(({ point }) => point.summary !== null),
    { placeOf: ({ at: place }) => place, sizeM: majorOf, stays: (one) => classOf(one) !== 'mark' },
  );
}

/** All ellipses of a plan, those that stand for others below. */
function ellipsesOf(density: EllipseDensity<DrawnPoint>, pixelsPerMetre: number): readonly Markup[] {
  return [
    ...density.squares.map((square) => densityMark(square, pixelsPerMetre)),
    ...density.drawn.map(({ point, at: place }) => ellipse(point, place, pixelsPerMetre)),
  ];
}

/** The largest, and of the others so many, spread over the plan. */
function withLargest(good: readonly DrawnPoint[], most: number): readonly DrawnPoint[] {
  if (good.length <= most) return good;
  const sorted = good.toSorted((a, b) => majorOf(b) - majorOf(a));
  const others = pickedBySpread(sorted.slice(MOST_LARGEST), ({ at: place }) => place, most - MOST_LARGEST);
  return [...sorted.slice(0, MOST_LARGEST), ...others];
}

function majorOf({ point }: DrawnPoint): number {
  return point.summary?.ellipseMajor95M ?? 0; // Without an ellipse there is none to make room for.
}

/** A pale disc: the median of the ellipses of a square of the plan. */
export function densityMark({ at: place, sizeM }: EllipseDensity<unknown>['squares'][number], pixels: number): Markup {
  return markup`<circle class="disc" cx="${at(place.x)}" cy="${at(place.y)}" r="${at(sizeM * pixels)}"/>`;
}

/** The sign of a point: filled where it is accepted. */
function verdictMark({ verdict }: ReducedPoint, place: Place): Mark {
  return verdict === 'accepted'
    ? { at: place, symbol: 'circle', classes: 'mark', area: 38 }
    : { at: place, symbol: 'diamond', classes: 'doubt', area: 34 };
}

/** So near to a base a sign of what fails would be lost on it. */
const ON_BASE_PX = 8;

/** Bases; hollow where what fails stands on one. */
export function baseMarks(
  bases: readonly { readonly at: Place }[],
  failing: readonly Place[] = NO_PLACES,
): readonly Markup[] {
  return bases.map(({ at: place }) => {
    const isHollow = failing.some(({ x, y }) => Math.hypot(x - place.x, y - place.y) < ON_BASE_PX);
    return markup`<path class="${isHollow ? 'doubt' : 'base'}" transform="translate(${at(place.x)} ${at(place.y)})" d="${symbolPath('triangle', 110)}"/>`;
  });
}

/** Of the set that has room. */
function ringsOf(base: ReportBase, view: PlanView): readonly DrawnRing[] {
  const steps = [...new Set(base.rings.map(({ stepM }) => stepM))].sort((a, b) => a - b);
  // Without rings no step has room.
  const step = steps.find((stepM) => stepM * view.pixelsPerMetre >= ROOMY_RINGS_PX) ?? steps[steps.length - 1] ?? 0;
  if (step * view.pixelsPerMetre < CLOSEST_RINGS_PX) return [];
  return base.rings.flatMap(({ stepM, radiusM, places }) => {
    const drawn = places.map(view.place);
    return stepM === step && drawn.some(view.isInside) ? [{ radiusM, drawn, isClosed: places.length > 3 }] : [];
  });
}

/** Which points show their baselines. */
function raysOf(drawn: readonly DrawnPoint[]): {
  readonly of: PlanDrawing['rays'];
  readonly drawn: readonly DrawnPoint[];
} {
  if (drawn.length <= MOST_RAYS) return { of: 'all', drawn };
  const doubted = drawn.filter((one) => classOf(one) !== 'mark');
  return doubted.length === 0 || doubted.length > MOST_RAYS
    ? { of: 'none', drawn: [] }
    : { of: 'review', drawn: doubted };
}

function raysPath(drawn: readonly DrawnPoint[], bases: readonly ReportBase[], view: PlanView): string {
  return drawn
    .flatMap(({ point, at: to }) =>
      bases.flatMap(({ id, place }) => {
        const isUsed = place !== null && (point.baseId === id || point.baseId?.split('+').includes(id) === true);
        return isUsed ? [clippedPath([view.place(place), to], false, view.box)] : [];
      }),
    )
    .join('');
}

/** True azimuth less convergence is the bearing on the grid: true north stands at the convergence with its sign turned. */
function trueNorthOf(drawn: readonly DrawnPoint[]): number | null {
  const bearings = drawn.flatMap(({ point: { position } }) => {
    const convergenceDeg = position?.convergenceDeg ?? null;
    return convergenceDeg === null ? [] : [-convergenceDeg];
  });
  bearings.sort((a, b) => a - b);
  return bearings.length === 0 ? null : entryAt(bearings, Math.floor(bearings.length / 2));
}

/** The round factor that draws the largest ellipse well visible. */
function exaggerationOf(drawn: readonly DrawnPoint[], view: PlanView): number | null {
  let largestM = 0;
  for (const one of drawn) largestM = Math.max(largestM, majorOf(one));
  return largestM >= LEAST_DRAWN_M
    ? Math.max(1, roundBelow(LARGEST_ELLIPSE_PX / (largestM * view.pixelsPerMetre)))
    : null;
}

/** The azimuth is from true north; the figure's sides follow grid north. */
function ellipse({ summary, position }: ReducedPoint, place: Place, pixelsPerMetre: number): Markup {
  if (summary === null) return { html: '' };
  // Without an ellipse there is none to make room for; without a grid, north is true.
  const bearing = summary.ellipseAzimuthDeg - (position?.convergenceDeg ?? 0);
  const [along, across] = [summary.ellipseMajor95M * pixelsPerMetre, summary.ellipseMinor95M * pixelsPerMetre];
  return markup`<ellipse class="blue" rx="${at(across)}" ry="${at(along)}" transform="translate(${at(place.x)} ${at(place.y)}) rotate(${at(bearing)})"/>`;
}
