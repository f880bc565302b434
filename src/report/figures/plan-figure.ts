import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { ReportAxis, ReportBase, ReportPlace } from '../../records/reports/reduction-report.js';
import { label, linePath } from './figure.js';
import { NO_MARKUP, markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at } from '../page/numbers.js';
import { groundLength, northArrow, planFrame, scaleBar } from './plan-frame.js';
import { planView } from './plan-view.js';
import type { PlanView } from './plan-view.js';
import { placeLabels, placeOnLine, roomOf } from './place-labels.js';
import type { PlacedLabel, WantedLabel } from './place-labels.js';
import { roundBelow } from './scales.js';
import { dotsPath, polylinePath, symbolPath } from './shapes.js';
import type { Place } from './shapes.js';
import { spreadOut } from './spread-out.js';
import { shortText } from '../page/visible-text.js';
import { entryAt } from '../../records/present.js';

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
}

/** A plan, and what its caption has to say of it. */
export interface PlanDrawing {
  readonly body: Markup;
  readonly height: number;
  /** How many times larger than the ground ellipses are drawn; null: none is drawn. */
  readonly exaggeration: number | null;
  readonly pointCount: number;
  readonly ellipseCount: number;
  readonly labelCount: number;
}

const MOST_ELLIPSES = 250;
const MOST_LABELS = 120;
/** Half of the last decimal that is printed: nothing smaller is drawn. */
const LEAST_DRAWN_M = 5e-5;
const LARGEST_ELLIPSE_PX = 26;
const MOST_RAYS = 120;
/** Rings closer than this are not drawn. */
const CLOSEST_RINGS_PX = 22;
/** The closest set of rings with so much room between them is drawn. */
const ROOMY_RINGS_PX = 60;

/** Bases, baselines, rings of equal distance, points and their 95 % ellipses on the grid. */
export function planFigure({ id, axes, bases, points, extent, width }: PlanContent): PlanDrawing {
  const view = planView(extent, axes, width, 50);
  const shown = points
    .map(({ point, place }) => ({ point, at: view.place(place) }))
    .filter((drawn) => view.isInside(drawn.at));
  const few = spreadOut(
    shown.map((drawn) => drawn.at),
    MOST_ELLIPSES,
  ).flatMap((index) => entryAt(shown, index));
  const exaggeration = exaggerationOf(
    few.map(({ point }) => point),
    view,
  );
  const crowded = few.length < shown.length;
  const stations = bases.flatMap((base) => (base.place === null ? [] : [{ id: base.id, at: view.place(base.place) }]));
  const clip = `${id}-clip`;
  const rings = bases.flatMap((base) => ringsOf(base, view));
  const { labels, ringWords } = wordsOf(
    // Without ellipses none takes room.
    { few, shown, stations, rings, ellipsePixelsPerMetre: (exaggeration ?? 0) * view.pixelsPerMetre },
    view,
  );
  const { left, right, top, bottom } = view.box;
  return {
    height: view.height,
    exaggeration,
    pointCount: shown.length,
    ellipseCount: exaggeration === null ? 0 : few.length,
    labelCount: labels.length,
    body: together([
      planFrame(view),
      markup`<clipPath id="${clip}"><rect x="${at(left)}" y="${at(top)}" width="${at(right - left)}" height="${at(bottom - top)}"/></clipPath><g clip-path="url(#${clip})">`,
      ...rings.map(({ drawn, isClosed }) => linePath(polylinePath(drawn, isClosed), 'ring')),
      linePath(raysPath(points, bases, view), 'ray'),
      ...(exaggeration === null
        ? []
        : few.map(({ point, at: place }) => ellipse(point, place, exaggeration * view.pixelsPerMetre))),
      markup`</g>`,
      crowded
        ? linePath(dotsPath(shown.map((drawn) => drawn.at)), 'dots')
        : together(shown.map(({ point, at: place }) => verdictMark(point, place))),
      ...stations.filter((base) => view.isInside(base.at)).map((base) => baseMark(base.at)),
      ...[...ringWords, ...labels].map((placed) => label(placed.x, placed.y, placed.text, placed.classes)),
      northArrow(right + 18, top + 18),
      scaleBar(
        left,
        bottom + 60,
        view.pixelsPerMetre,
        0.25 * (right - left),
        (lengthM) => `${groundLength(lengthM)} of ground`,
      ),
      exaggeration === null
        ? NO_MARKUP
        : scaleBar(
            (left + right) / 2,
            bottom + 60,
            view.pixelsPerMetre * exaggeration,
            60,
            (lengthM) => `${groundLength(lengthM)} of an ellipse`,
          ),
    ]),
  };
}

/** A point, and where it stands on the drawing. */
interface DrawnPoint {
  readonly point: ReducedPoint;
  readonly at: Place;
}

interface DrawnRing {
  readonly radiusM: number;
  readonly drawn: readonly Place[];
  readonly isClosed: boolean;
}

/** What takes room on a plan, and what of it wants a name. */
interface PlanMarks {
  readonly few: readonly DrawnPoint[];
  readonly shown: readonly DrawnPoint[];
  readonly stations: readonly { readonly id: string; readonly at: Place }[];
  readonly rings: readonly DrawnRing[];
  readonly ellipsePixelsPerMetre: number;
}

/** Names of bases and points where there is room, then the lengths of rings along their lines. */
function wordsOf(
  { few, shown, stations, rings, ellipsePixelsPerMetre }: PlanMarks,
  view: PlanView,
): { readonly labels: readonly PlacedLabel[]; readonly ringWords: readonly PlacedLabel[] } {
  const wanted: WantedLabel[] = [
    ...stations
      .filter((base) => view.isInside(base.at))
      .map((base) => ({ at: base.at, text: shortText(base.id, 14), clear: 7 })),
    ...uniqueNames(few, ellipsePixelsPerMetre).slice(0, MOST_LABELS),
  ];
  const ellipses = few.map(({ point, at: place }) => ({
    ...place,
    // Without an ellipse there is none to make room for; without a grid, north is true.
    clear: (point.summary?.ellipseMajor95M ?? 0) * ellipsePixelsPerMetre,
  }));
  const labels = placeLabels(
    wanted,
    [...shown.map((drawn) => drawn.at), ...stations.map((base) => ({ ...base.at, clear: 8 }))],
    view.box,
    ellipses,
  );
  const taken = [...ellipses, ...shown.map((drawn) => drawn.at), ...labels.map(roomOf)];
  const ringWords = rings.flatMap(({ drawn, radiusM }) => {
    const placed = placeOnLine(groundLength(radiusM), drawn, taken, view.box);
    if (placed !== null) taken.push(roomOf(placed));
    return placed ?? [];
  });
  return { labels, ringWords };
}

export function verdictMark(point: ReducedPoint, place: Place): Markup {
  return point.verdict === 'accepted'
    ? markup`<path class="mark" transform="translate(${at(place.x)} ${at(place.y)})" d="${symbolPath('circle', 38)}"/>`
    : markup`<path class="doubt" transform="translate(${at(place.x)} ${at(place.y)})" d="${symbolPath('diamond', 34)}"/>`;
}

export function baseMark(place: Place): Markup {
  return markup`<path class="base" transform="translate(${at(place.x)} ${at(place.y)})" d="${symbolPath('triangle', 110)}"/>`;
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

function raysPath(points: readonly PlanPoint[], bases: readonly ReportBase[], view: PlanView): string {
  let path = '';
  const places = points.map(({ place }) => view.place(place));
  for (const index of spreadOut(places, MOST_RAYS)) {
    const to = places[index];
    const used = points[index]?.point.baseId ?? null;
    if (to === undefined || used === null) continue;
    for (const base of bases) {
      if (base.place === null || !(used === base.id || used.split('+').includes(base.id))) continue;
      const from = view.place(base.place);
      path += `M${at(from.x)} ${at(from.y)}L${at(to.x)} ${at(to.y)}`;
    }
  }
  return path;
}

/** The round factor that draws the largest ellipse well visible. */
function exaggerationOf(points: readonly ReducedPoint[], view: PlanView): number | null {
  let largestM = 0;
  // Without an ellipse there is none to make room for; without a grid, north is true.
  for (const { summary } of points) largestM = Math.max(largestM, summary?.ellipseMajor95M ?? 0);
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

/** A point that was occupied several times needs its name once. */
function uniqueNames(drawn: readonly DrawnPoint[], pixelsPerMetre: number): WantedLabel[] {
  const seen = new Set<string>();
  return drawn.flatMap(({ point, at: place }) => {
    if (seen.has(point.pointId)) return [];
    seen.add(point.pointId);
    return [
      {
        at: place,
        text: shortText(point.pointId, 14),
        // Without an ellipse there is none to make room for; without a grid, north is true.
        clear: Math.max(4, (point.summary?.ellipseMajor95M ?? 0) * pixelsPerMetre),
      },
    ];
  });
}
