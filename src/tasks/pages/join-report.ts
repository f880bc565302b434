import type { PageFacts } from '../../records/reports/parts/page-facts.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { PointJoin, Station } from '../../records/points/point-join.js';
import type { GroundDifference, JoinLine, JoinMark, JoinReport } from '../../records/reports/join-report.js';
import type { ReportPlace } from '../../records/reports/reduction-report.js';
import type { MeasuredFigure } from '../join/measure-figures.js';
import type { PolarPoint } from '../join/set-out-polars.js';

/** What a run joined, set out or measured. */
export type JoinedThings =
  | { readonly mode: 'lines'; readonly joins: readonly PointJoin[] }
  | { readonly mode: 'polar'; readonly points: readonly PolarPoint[] }
  | { readonly mode: 'area'; readonly figures: readonly MeasuredFigure[] };

/** Rows of the table; a page stays well under two megabytes. */
const MOST_ROWS = 1000;
/** Names of a sentence. */
const MOST_NAMED = 6;

/** What the page says that the results do not know. `rows`: cells of every result, in order. */
export type JoinSurroundings = Pick<
  JoinReport,
  keyof PageFacts | 'answer' | 'columns' | 'hasDms' | 'rows' | 'statements' | 'surveyed'
> & { readonly refused: number; readonly withoutPlace: number };

/** Joined points as their page shows them. */
export function joinReport(
  made: JoinedThings,
  grid: GridSystem,
  { refused, withoutPlace, ...about }: JoinSurroundings,
): JoinReport {
  const needs = needsOf(made);
  const order = about.rows.map((_, index) => index).sort((a, b) => rank(needs, b) - rank(needs, a));
  const joins = made.mode === 'lines' ? made.joins : [];
  const counts = {
    made: about.rows.length,
    refused,
    withoutPlace,
    withoutHeight: needs.filter((need) => need > 0).length,
    withoutHeightIds: namesOf(made)
      .filter((_, index) => rank(needs, index) > 0)
      .slice(0, MOST_NAMED),
    coincident: joins.filter(({ azimuthDeg }) => azimuthDeg === null).length,
  };
  const groundDifference = largestDifference(joins);
  return {
    ...about,
    mode: made.mode,
    systemName: `${grid.code === null ? '' : `${grid.code} `}${grid.name}`,
    axes: grid.axes,
    counts,
    rows: order.slice(0, MOST_ROWS).flatMap((index) => about.rows.slice(index, index + 1)),
    ...drawnOf(made),
    groundDifference,
    next: nextOf(made.mode, counts, groundDifference),
  };
}

/** What each result is called: a line by its ends. */
function namesOf(made: JoinedThings): readonly string[] {
  switch (made.mode) {
    case 'lines':
      return made.joins.map(({ from, to }) => `${from.pointId} to ${to.pointId}`);
    case 'polar':
      return made.points.map(({ point }) => point.pointId);
    case 'area':
      return made.figures.map(({ corners }) => corners.map(({ pointId }) => pointId).join(' '));
  }
}

function rank(needs: readonly number[], index: number): number {
  return needs[index] ?? 0; // What lacks nothing needs no look.
}

/** 1 for a result that lacks what needs a height. */
function needsOf(made: JoinedThings): readonly number[] {
  switch (made.mode) {
    case 'lines':
      return made.joins.map(({ groundDistanceM }) => (groundDistanceM === null ? 1 : 0));
    case 'polar':
      return made.points.map(({ point }) =>
        point.ellipsoidalHeightM === null && point.orthometricHeightM === null ? 1 : 0,
      );
    case 'area':
      return made.figures.map(({ area }) => (area.groundAreaM2 === null ? 1 : 0));
  }
}

function drawnOf(made: JoinedThings): Pick<JoinReport, 'marks' | 'lines' | 'outlines'> {
  switch (made.mode) {
    case 'lines':
      return {
        marks: marksOf(made.joins.flatMap(({ from, to }) => [from, to])),
        lines: made.joins.map(({ from, to, groundDistanceM }) => lineOf(from, to, groundDistanceM !== null)),
        outlines: [],
      };
    case 'polar':
      return {
        marks: [
          ...marksOf(made.points.map(({ from }) => from)),
          ...marksOf(made.points.map(({ point }) => point)).map((mark) => ({ ...mark, isNew: true })),
        ],
        lines: made.points.map(({ from, point }) => lineOf(from, point, true)),
        outlines: [],
      };
    case 'area':
      return {
        marks: marksOf(made.figures.flatMap(({ corners }) => corners)),
        lines: [],
        outlines: made.figures.map(({ corners }) => corners.map(placeOf)),
      };
  }
}

function placeOf({ gridFirst, gridSecond }: Station): ReportPlace {
  return { first: gridFirst, second: gridSecond };
}

function lineOf(from: Station, to: Station, isComplete: boolean): JoinLine {
  return { from: placeOf(from), to: placeOf(to), isComplete };
}

/** Each point once, however many lines meet in it. */
function marksOf(stations: readonly Station[]): readonly JoinMark[] {
  return [...new Set(stations)].map((station) => ({
    pointId: station.pointId,
    place: placeOf(station),
    isNew: false,
  }));
}

function largestDifference(joins: readonly PointJoin[]): GroundDifference | null {
  let most = -1;
  let found: GroundDifference | null = null;
  for (const { from, to, gridDistanceM: gridM, groundDistanceM: groundM } of joins) {
    if (groundM === null || gridM === 0) continue;
    const share = Math.abs(groundM / gridM - 1);
    if (share <= most) continue;
    most = share;
    found = { fromId: from.pointId, toId: to.pointId, gridM, groundM };
  }
  return found;
}

/** Parts in a million from which on grid and ground distances are not to be taken for each other. Common practice, no published source. */
const MARKED_PPM = 5;

function nextOf(
  mode: JoinReport['mode'],
  counts: JoinReport['counts'],
  difference: GroundDifference | null,
): readonly string[] {
  const next: string[] = [];
  if (counts.refused > 0) next.push('Mend the rows that were refused and run again.');
  if (counts.withoutHeight > 0)
    next.push(
      'Give heights above the ellipsoid, or above the sea with a geoid: what is measured on the ground needs them.',
    );
  if (counts.coincident > 0) next.push('Look at the lines whose ends are one place: are both points meant?');
  if (difference !== null && Math.abs(difference.groundM / difference.gridM - 1) > MARKED_PPM * 1e-6)
    next.push('Set out and compare tapes and total stations with ground distances, not with grid ones.');
  if (mode === 'polar')
    next.push('Measure a check distance between two of the new points: a polar point has no check of its own.');
  if (mode === 'area') next.push('Check that the corners are the ones of the deed: an area checks no corner.');
  return next;
}
