import type { ReportAxis, ReportPlace } from '../../records/reports/reduction-report.js';
import { label, linePath } from './figure.js';
import type { DrawingContent } from './figure.js';
import { clippedPath } from './clipped-path.js';
import { drawnMarks } from './marks.js';
import { placeLabels } from './place-labels.js';
import { ARROW_BELOW, ARROW_X, groundLength, northArrow, planFrame, scaleBar } from './plan-frame.js';
import { planView } from './plan-view.js';
import { together } from '../page/markup.js';
import { shortText } from '../page/visible-text.js';

/** A place of a map: a number to be written there, and how large its mark is. */
export interface GradedPlace {
  readonly place: ReportPlace;
  readonly text: string;
  /** 0 or above; the largest of the map is drawn largest. */
  readonly size: number;
}

export interface GradedMapContent {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly places: readonly GradedPlace[];
  /** Points that are named. */
  readonly points: readonly { readonly pointId: string; readonly place: ReportPlace }[];
  readonly outlines: readonly (readonly ReportPlace[])[];
}

const WIDTH = 760;
const GRADES = 6;
const LEAST_AREA = 12;
const MOST_AREA = 420;
const LEAST_SPAN_M = 50;

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
  const graded = places.map(({ place, text, size }) => ({
    at: view.place(place),
    text,
    area: most > 0 ? LEAST_AREA + ((MOST_AREA - LEAST_AREA) * Math.ceil((GRADES * size) / most)) / GRADES : LEAST_AREA,
  }));
  const spots = points.map(({ pointId, place }) => ({ text: shortText(pointId, 14), at: view.place(place), clear: 5 }));
  const numbers = graded.map(({ at }) => ({ x: at.x, y: at.y - 4, clear: 9 }));
  const names = placeLabels(spots, [...numbers, ...spots.map(({ at }) => at)], view.box);
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
        ...graded.map(({ at, area }) => ({ at, symbol: 'circle' as const, classes: 'ring', area })),
        ...spots.map(({ at }) => ({ at, symbol: 'circle' as const, classes: 'mark', area: 30 })),
      ]),
      ...graded.map(({ at, text }) => label(at.x, at.y + 3.5, text, 'm s q halo')),
      ...names.map((one) => label(one.x, one.y, one.text, one.classes)),
      northArrow(ARROW_X, bottom + ARROW_BELOW),
      scaleBar(left, bottom + 60, view.pixelsPerMetre, 0.25 * (right - left), (m) => `${groundLength(m)} of ground`),
    ]),
  };
}
