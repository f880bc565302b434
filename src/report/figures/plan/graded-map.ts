import type { ReportAxis, ReportPlace } from '../../../records/reports/reduction-report.js';
import { label, linePath } from '../figure.js';
import type { DrawingContent } from '../figure.js';
import { clippedPath } from '../clipped-path.js';
import { drawnMarks } from '../marks.js';
import { around, meets, placeLabels, roomOf } from './place-labels.js';
import type { Mark } from '../marks.js';
import type { PlacedLabel, WantedLabel } from './place-labels.js';
import { ARROW_BELOW, ARROW_X, SCALE_BELOW, groundLength, northArrow, planFrame, scaleBar } from './plan-frame.js';
import { planView } from './plan-view.js';
import type { PlanView } from './plan-view.js';
import type { Place } from '../shapes.js';
import { together } from '../../page/markup.js';
import { shortText } from '../../page/words/visible-text.js';

/** A place of a map: a number to be written there, and how large its mark is. */
export interface GradedPlace {
  readonly place: ReportPlace;
  readonly text: string;
  /** 0 or above; the largest of the map is drawn largest. */
  readonly size: number;
  /** Written beside it where there is room; null: it has none. */
  readonly name: string | null;
}

export interface GradedMapContent {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly places: readonly GradedPlace[];
  /** Points that are named; one that fails is a cross, one that was kept out a diamond, crossed where it fails. */
  readonly points: readonly {
    readonly pointId: string;
    readonly place: ReportPlace;
    readonly fails?: boolean;
    readonly isKeptOut?: boolean;
  }[];
  readonly outlines: readonly (readonly ReportPlace[])[];
}

const WIDTH = 760;
const GRADES = 6;
const LEAST_AREA = 12;
const MOST_AREA = 420;
const LEAST_SPAN_M = 50;
/** Half of what a digit of a number takes, pixels. */
const HALF_CHARACTER = 3.2;
/** A number keeps so far off a dot, pixels across and up: it says nothing of the dot. */
const OFF_DOT = { across: 30, up: 11 };

/** Where numbers, dots and names stand: a number keeps off dots, and names keep off both. */
function laidOut(
  { places, points }: Pick<GradedMapContent, 'places' | 'points'>,
  view: PlanView,
  most: number,
): {
  readonly graded: readonly (Pick<GradedPlace, 'text' | 'name'> & { readonly at: Place; readonly area: number })[];
  readonly spots: readonly (WantedLabel & { readonly fails: boolean; readonly isKeptOut: boolean })[];
  readonly names: readonly PlacedLabel[];
} {
  const dots = points.map(({ place }) => view.place(place));
  const free = places.filter(({ place }) => {
    const { x, y } = view.place(place);
    return dots.every((dot) => Math.abs(dot.x - x) > OFF_DOT.across || Math.abs(dot.y - y) > OFF_DOT.up);
  });
  // Names of those that fail are set first: a number gives way to them.
  const ordered = points.toSorted((a, b) => Number(b.fails === true) - Number(a.fails === true));
  const spots = ordered.map(({ pointId, place, fails, isKeptOut }) => ({
    text: shortText(pointId, 14),
    at: view.place(place),
    clear: 5,
    fails: fails === true,
    isKeptOut: isKeptOut === true,
  }));
  const failing = placeLabels(
    spots.filter(({ fails }) => fails),
    spots.map(({ at }) => at),
    view.box,
  );
  const rooms = failing.map(roomOf);
  const open = free.filter(({ place, text: { length } }) => {
    const own = around({ ...numberPlace(view.place(place)), clear: 7, wide: HALF_CHARACTER * length });
    return !rooms.some((room) => meets(own, around(room)));
  });
  const graded = open.map(({ place, text, size, name }) => ({
    at: view.place(place),
    text,
    name,
    area: most > 0 ? LEAST_AREA + ((MOST_AREA - LEAST_AREA) * Math.ceil((GRADES * size) / most)) / GRADES : LEAST_AREA,
  }));
  // A number is wider than high: names keep off all of it.
  const numbers = graded.flatMap(({ at, text: { length } }) =>
    [-1, 0, 1].map((side) => ({ x: at.x + side * (HALF_CHARACTER * length - 5), y: at.y - 4, clear: 9 })),
  );
  const wanted = graded.flatMap(({ at, name, area, text: { length } }) =>
    name === null
      ? []
      : [{ text: shortText(name, 14), at, clear: Math.max(9, Math.sqrt(area) / 2, HALF_CHARACTER * length) }],
  );
  const others = placeLabels(
    [...spots.filter(({ fails }) => !fails), ...wanted],
    [...numbers, ...spots.map(({ at }) => at), ...rooms],
    view.box,
  );
  return { graded, spots, names: [...failing, ...others] };
}

/** Where the middle of a number is. */
function numberPlace({ x, y }: Place): Place {
  return { x, y: y - 0.5 };
}

/** The sign of a point; the cross of one that was kept out and fails lies in its diamond. */
function signsOf({
  at,
  fails,
  isKeptOut,
}: {
  readonly at: Place;
  readonly fails: boolean;
  readonly isKeptOut: boolean;
}): readonly Mark[] {
  const cross = fails ? [{ at, symbol: 'times' as const, classes: 'bad', area: 60 }] : [];
  if (isKeptOut) return [{ at, symbol: 'diamond', classes: 'doubt', area: fails ? 150 : 44 }, ...cross];
  return fails ? cross : [{ at, symbol: 'circle', classes: 'mark', area: 30 }];
}

/** Numbers over a plan, each on a circle that grows in grades with a size; points as filled dots with their names. */
export function gradedMap({
  id,
  title,
  description,
  axes,
  places,
  points,
  outlines,
}: GradedMapContent): DrawingContent {
  const view = planView(
    [...places, ...points].map(({ place }) => place),
    axes,
    WIDTH,
    LEAST_SPAN_M,
  );
  const most = places.reduce((largest, { size }) => Math.max(largest, size), 0);
  const { graded, spots, names } = laidOut({ places, points }, view, most);
  const { left, right, bottom } = view.box;
  return {
    id,
    title,
    description,
    width: WIDTH,
    height: view.height,
    body: together([
      planFrame(view),
      ...outlines.map((outline) => linePath(clippedPath(outline.map(view.place), true, view.box), 'inkline dash')),
      drawnMarks(id, [
        ...graded.map(({ at, area }) => ({ at, symbol: 'circle' as const, classes: 'disc', area })),
        ...spots.toReversed().flatMap(signsOf),
      ]),
      ...graded.map(({ at, text }) => label(at.x, at.y + 3.5, text, 'm s')),
      ...names.map((one) => label(one.x, one.y, one.text, one.classes)),
      northArrow(ARROW_X, bottom + ARROW_BELOW),
      scaleBar(
        left,
        bottom + SCALE_BELOW,
        view.pixelsPerMetre,
        0.25 * (right - left),
        (m) => `${groundLength(m)} of ground`,
      ),
    ]),
  };
}
