import { largestOf } from '../../core/numeric/extremes.js';
import type { AvailabilityCell, LinkOutage, LinkReport } from '../../records/corrections/link-report.js';
import { label } from '../figures/figure.js';
import type { DrawingContent } from '../figures/figure.js';
import {
  ARROW_BELOW,
  ARROW_X,
  SCALE_BELOW,
  northArrow,
  planFrame,
  scaleBar,
  groundLength,
} from '../figures/plan/plan-frame.js';
import { planView } from '../figures/plan/plan-view.js';
import type { PlanView } from '../figures/plan/plan-view.js';
import type { Place } from '../figures/shapes.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at } from '../page/words/numbers.js';
import type { ReportAxis, ReportPlace } from '../../records/reports/reduction-report.js';

/** A drawing, and what its caption has to say of it. */
export interface CellsDrawing {
  readonly content: DrawingContent;
  readonly drawn: number;
  readonly all: number;
}

const WIDTH = 760;
const MOST_CELLS = 1500;
/** A cell is not drawn smaller. */
const LEAST_PX = 4;
/** Half of a diamond with its number, and of one without. */
const NUMBERED_PX = 12;
const BARE_PX = 5;
/** A degree of the meridian, metres, on the sphere of equal volume (radius 6371 km): enough for a map, which nobody measures in. */
const DEGREE_M = 111_195;
/** Age whose availability the map shows, seconds: the middle one of the table. */
export const MAPPED_AGE_S = 5;

/** Cells of 100 m, the stronger tinted the fewer of their epochs had corrections of five seconds and less, with the outages by their numbers. Null where corrections were in time everywhere. */
export function cellsDrawing(
  id: string,
  { cells }: LinkReport,
  numbered: readonly { readonly outage: LinkOutage; readonly number: number }[],
): CellsDrawing | null {
  const [first] = cells.listed;
  if (first === undefined || (numbered.length === 0 && cells.listed.every((cell) => lackOf(cell) === 0))) return null;
  const drawn = cells.listed.toSorted((a, b) => lackOf(b) - lackOf(a)).slice(0, MOST_CELLS);
  const origin = { latitudeDeg: first.southDeg, longitudeDeg: first.westDeg };
  const east = DEGREE_M * Math.cos((origin.latitudeDeg * Math.PI) / 180);
  const placeOf = (latitudeDeg: number, longitudeDeg: number): ReportPlace => ({
    first: east * turned(longitudeDeg - origin.longitudeDeg),
    second: DEGREE_M * (latitudeDeg - origin.latitudeDeg),
  });
  const corners = drawn.flatMap((cell) => [placeOf(cell.southDeg, cell.westDeg), placeOf(cell.northDeg, cell.eastDeg)]);
  const view = planView(corners, AXES, WIDTH, 400);
  const marks = numbered.map(({ outage, number }) => ({
    at: view.place(placeOf(outage.latitudeDeg, outage.longitudeDeg)),
    text: String(number),
  }));
  return {
    drawn: drawn.length,
    all: cells.listed.length + cells.leftOut,
    content: {
      id,
      title: 'Where corrections came in time',
      description: `Squares of 100 m of ground, the stronger their tint the smaller the share of epochs whose corrections were at most ${String(MAPPED_AGE_S)} s old; numbered diamonds: where outages began.`,
      width: WIDTH,
      height: view.height,
      body: together([
        planFrame(view),
        // The worst lie on top.
        ...drawn.toReversed().map((cell) => square(cell, placeOf, view)),
        ...numberedDiamonds(marks),
        northArrow(ARROW_X, view.box.bottom + ARROW_BELOW),
        scaleBar(
          view.box.left,
          view.box.bottom + SCALE_BELOW,
          view.pixelsPerMetre,
          0.25 * (view.box.right - view.box.left),
          (lengthM) => `${groundLength(lengthM)} of ground`,
        ),
      ]),
    },
  };
}

const AXES: readonly [ReportAxis, ReportAxis] = [
  {
    columnName: '',
    name: 'east of the first cell',
    abbreviation: 'E',
    direction: 'east',
    unitName: 'm',
    metresPerUnit: 1,
  },
  { columnName: '', name: 'north of it', abbreviation: 'N', direction: 'north', unitName: 'm', metresPerUnit: 1 },
];

function turned(degrees: number): number {
  return degrees - 360 * Math.round(degrees / 360);
}

/** Share of a cell's epochs without corrections of the mapped age. */
function lackOf({ shares }: AvailabilityCell): number {
  // Every cell counts the ages that availability is counted at.
  return 1 - (shares.find(({ ageS }) => ageS === MAPPED_AGE_S)?.share ?? 1);
}

function square(
  cell: AvailabilityCell,
  placeOf: (latitudeDeg: number, longitudeDeg: number) => ReportPlace,
  view: PlanView,
): Markup {
  const [low, high] = [
    view.place(placeOf(cell.southDeg, cell.westDeg)),
    view.place(placeOf(cell.northDeg, cell.eastDeg)),
  ];
  const side = largestOf([high.x - low.x, low.y - high.y], LEAST_PX);
  const [x, y] = [(low.x + high.x - side) / 2, (low.y + high.y - side) / 2];
  const ink = Math.round(10 + 90 * lackOf(cell));
  return markup`<rect class="tint" fill-opacity="${String(ink / 100)}" x="${at(x)}" y="${at(y)}" width="${at(side)}" height="${at(side)}"/>`;
}

/** Each number stands in its diamond, so that no dark square lies under it; diamonds too near to an earlier one have none. */
function numberedDiamonds(marks: readonly { readonly at: Place; readonly text: string }[]): readonly Markup[] {
  const isFree = marks.map(({ at: one }, index) =>
    marks.slice(0, index).every(({ at: other }) => Math.hypot(one.x - other.x, one.y - other.y) > 2 * NUMBERED_PX),
  );
  const drawn = (wanted: boolean): readonly Markup[] =>
    marks.flatMap(({ at: { x, y }, text }, index) => {
      if (isFree[index] !== wanted) return [];
      return wanted ? [diamond(x, y, NUMBERED_PX), label(x, y + 3.5, text, 'm s')] : [diamond(x, y, BARE_PX)];
    });
  return [...drawn(false), ...drawn(true)];
}

function diamond(x: number, y: number, half: number): Markup {
  return markup`<path class="doubt" d="M${at(x - half)} ${at(y)}L${at(x)} ${at(y - half)}L${at(x + half)} ${at(y)}L${at(x)} ${at(y + half)}Z"/>`;
}
