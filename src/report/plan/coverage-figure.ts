import type { PlanReport, PlanReportTarget } from '../../records/reports/plan-report.js';
import { label, linePath, wideFigure } from '../figures/figure.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at } from '../page/numbers.js';
import { baseMark } from '../figures/plan-figure.js';
import { groundLength, northArrow, planFrame, scaleBar } from '../figures/plan-frame.js';
import { planView } from '../figures/plan-view.js';
import { placeLabels, placeOnLine, roomOf } from '../figures/place-labels.js';
import type { WantedLabel } from '../figures/place-labels.js';
import type { Place } from '../figures/shapes.js';
import { clippedPath } from '../figures/clipped-path.js';
import { drawnMarks } from '../figures/marks.js';
import { dotsPath } from '../figures/shapes.js';
import { pickedBySpread } from '../figures/spread-out.js';
import { thinned, thinWords } from '../figures/thinned.js';
import { placeShare } from './place-share.js';
import { shortText } from '../page/visible-text.js';

const WIDTH = 760;
const MOST_MARKS = 500;
const MOST_NAMED = 100;
/** Told apart by the dash, whatever the colour. */
const DASHES = { quiet: 'inkline dotted', normal: 'inkline', active: 'inkline dash' } as const;

/** Bases, their usable ranges under the three conditions, and what is within them. */
export function coverageFigure(report: PlanReport, number: number): Markup {
  const { axes, bases, targets, rings } = report;
  const placed = targets.flatMap((target) => (target.place === null ? [] : [{ target, place: target.place }]));
  const stations = bases.flatMap((base) => (base.place === null ? [] : [{ id: base.id, place: base.place }]));
  const work = [...placed.map(({ place }) => place), ...stations.map(({ place }) => place)];
  const judged = rings.filter(({ conditions }) => conditions === report.conditions);
  // A ring far larger than the work would shrink it to a dot.
  const view = planView(
    [...work, ...judged.filter(({ radiusM }) => radiusM < 1.6 * farthest(report)).flatMap(({ places }) => places)],
    axes,
    WIDTH,
    500,
  );
  const few = thinned(
    placed,
    ({ target }) => (target.isWithin ? 'mark' : 'bad'),
    (good) => pickedBySpread(good, ({ place }) => view.place(place), MOST_MARKS),
  );
  const marks = few.drawn.map(({ target, place }) => ({ target, at: view.place(place) }));
  const spots = stations.map(({ id, place }) => ({ id, at: view.place(place) }));
  const wanted = [
    ...spots.map((base) => ({ at: base.at, text: shortText(base.id, 14), clear: 7 })),
    ...wantedNames(marks),
  ];
  const labels = placeLabels(
    wanted,
    [...spots.map((base) => ({ ...base.at, clear: 8 })), ...marks.map((mark) => mark.at)],
    view.box,
  );
  const taken = [...marks.map((mark) => mark.at), ...labels.map(roomOf)];
  const ringWords = rings.flatMap(({ conditions, radiusM, places }) => {
    const placed = placeOnLine(
      `${conditions} ${groundLength(Math.round(radiusM / 100) * 100)}`,
      places.map(view.place),
      taken,
      view.box,
    );
    if (placed !== null) taken.push(roomOf(placed));
    return placed ?? [];
  });
  const { left, right, top, bottom } = view.box;
  const within = marks.filter(({ target }) => target.isWithin).map((mark) => mark.at);
  const body = together([
    planFrame(view),
    markup`<clipPath id="coverage-clip"><rect x="${at(left)}" y="${at(top)}" width="${at(right - left)}" height="${at(bottom - top)}"/></clipPath><g clip-path="url(#coverage-clip)">`,
    ...rings.map(({ conditions, places }) =>
      linePath(clippedPath(places.map(view.place), true, view.box), DASHES[conditions]),
    ),
    markup`</g>`,
    linePath(dotsPath(within), 'dots'),
    drawnMarks(
      'coverage',
      marks
        .filter(({ target }) => !target.isWithin)
        .map(({ at: spot }) => ({ at: spot, symbol: 'times', classes: 'bad', area: 60 })),
    ),
    ...spots.map((base) => baseMark(base.at)),
    ...[...ringWords, ...labels].map((one) => label(one.x, one.y, one.text, one.classes)),
    northArrow(right + 18, top + 18),
    scaleBar(
      left,
      bottom + 60,
      view.pixelsPerMetre,
      0.25 * (right - left),
      (lengthM) => `${groundLength(lengthM)} of ground`,
    ),
  ]);
  return wideFigure(
    {
      id: 'coverage',
      title: 'Coverage map',
      description:
        'Triangles are bases, dots places within their tolerances, crosses places outside; closed lines are the usable range about each base under quiet (dotted), normal (full) and active (dashed) conditions.',
      width: WIDTH,
      height: view.height,
      body,
    },
    number,
    captionOf(report, thinWords(few, 'within', 'spread over the map')),
  );
}

/** Names of points, those that use up most of their tolerances first. */
function wantedNames(
  marks: readonly { readonly target: PlanReportTarget; readonly at: Place }[],
): readonly WantedLabel[] {
  return marks
    .filter(({ target }) => target.isPoint)
    .sort((a, b) => placeShare(b.target).share - placeShare(a.target).share)
    .slice(0, MOST_NAMED)
    .map(({ target, at: spot }) => ({ at: spot, text: shortText(target.id, 14), clear: 4 }));
}

/** What the map is drawn in, and what its marks and lines mean. */
function captionOf({ axes, systemName, frameName, tolerances }: PlanReport, thin: string): Markup {
  const isGrid = axes[0].columnName !== 'east_m';
  const turned =
    axes[0].direction === 'west'
      ? ` ${axes[0].abbreviation} grows to the west, ${axes[1].abbreviation} to the south; the map itself has north up.`
      : '';
  const least = tolerances[0];
  const rule =
    least === undefined
      ? ''
      : ` Ranges are drawn for ${least.horizontalM === null ? 'no tolerance' : `${String(least.horizontalM)} m`} in plan and ${least.verticalM === null ? 'none' : `${String(least.verticalM)} m`} in height${tolerances.length > 1 ? ', the pair that reaches least' : ''}.`;
  return markup`Coverage. ${systemName}; frame ${frameName}; ${isGrid ? 'north is grid north' : 'north at the base is true north'}.${turned} Triangles: bases. Dots: within their tolerances. Crosses: outside. Lines: usable range in quiet (dotted), normal (full) and active (dashed) conditions, at equal heights.${rule} Names without room are left out.${thin}`;
}

function farthest({ bases }: PlanReport): number {
  // A base that serves no point reaches nowhere.
  return bases.reduce((most, { farthestM }) => Math.max(most, farthestM ?? 0), 1000);
}
