import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import type { PlanReport, PlanReportTarget } from '../../records/reports/plan-report.js';
import type { ReportAxis, ReportPlace } from '../../records/reports/reduction-report.js';
import { label, linePath, wideFigure } from '../figures/figure.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at } from '../page/words/numbers.js';
import { baseMarks } from '../figures/plan/plan-figure.js';
import {
  ARROW_BELOW,
  ARROW_X,
  SCALE_BELOW,
  groundLength,
  northArrow,
  planFrame,
  scaleBar,
} from '../figures/plan/plan-frame.js';
import { planView } from '../figures/plan/plan-view.js';
import type { PlanView } from '../figures/plan/plan-view.js';
import { placeLabels, placeOnLine, roomOf } from '../figures/plan/place-labels.js';
import type { PlacedLabel, TakenPlace, WantedLabel } from '../figures/plan/place-labels.js';
import type { Place } from '../figures/shapes.js';
import { clippedPath } from '../figures/clipped-path.js';
import { drawnMarks } from '../figures/marks.js';
import { pickedBySpread } from '../figures/plan/spread-out.js';
import { thinned, thinWords } from '../figures/thinned.js';
import { placeShare } from './place-share.js';
import { classOfPlace, classWords, pairWords, toleranceClasses } from './tolerance-classes.js';
import type { ToleranceClass } from './tolerance-classes.js';
import { entryAt } from '../../records/present.js';
import type { Mark } from '../figures/marks.js';
import { shortText } from '../page/words/visible-text.js';

const WIDTH = 760;
const MOST_MARKS = 500;
const MOST_NAMED = 100;
/** Told apart by the dash, whatever the colour. */
const DASHES = { quiet: 'inkline dotted', normal: 'inkline', active: 'inkline dash' } as const;

/** Bases, their usable ranges under the three conditions, and what is within them. */
export function coverageFigure(whole: PlanReport, number: number): Markup {
  const report = withJudgedRings(whole);
  const { axes, bases, targets, rings } = report;
  const classes = toleranceClasses(report);
  const placed = targets.flatMap((target) => (target.place === null ? [] : [{ target, place: target.place }]));
  const stations = bases.flatMap((base) => (base.place === null ? [] : [{ id: base.id, place: base.place }]));
  const work = [...placed.map(({ place }) => place), ...stations.map(({ place }) => place)];
  const judged = rings.filter(({ conditions }) => conditions === report.conditions);
  // A ring far larger than the work would shrink it to a dot, and one about a base at its edge would leave it a corner.
  const near = judged.filter(({ radiusM }) => radiusM < 1.6 * farthest(report)).flatMap(({ places }) => places);
  const view = planView([...work, ...near.map(withinReach(work, axes))], axes, WIDTH, 500);
  const few = thinned(
    placed,
    ({ target }) => (target.isWithin ? 'mark' : 'bad'),
    (good) => pickedBySpread(good, ({ place }) => view.place(place), MOST_MARKS),
  );
  // What is outside lies on top.
  const marks = few.drawn
    .toSorted((a, b) => Number(b.target.isWithin) - Number(a.target.isWithin))
    .map(({ target, place }) => ({ target, at: view.place(place) }));
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
  const ringWords = wordsOfRings(report, classes, view, [...marks.map((mark) => mark.at), ...labels.map(roomOf)]);
  const body = together([
    planFrame(view),
    ...drawnRings(rings, view),
    // A base hides no place that stands on it.
    ...baseMarks(
      spots,
      marks.filter(({ target }) => !target.isWithin).map((mark) => mark.at),
    ),
    drawnMarks(
      'coverage',
      marks.map((mark) => signOf(mark, classes)),
    ),
    ...[...ringWords, ...labels].map((one) => label(one.x, one.y, one.text, one.classes)),
    ...arrowAndScale(view),
  ]);
  return wideFigure(
    {
      id: 'coverage',
      title: 'Coverage map',
      description: `Triangles are bases, ${classes.length > 1 ? 'filled signs places within their tolerances, hollow ones places outside, a sign for each pair of tolerances' : 'dots places within their tolerances, crosses places outside'}; closed lines are the usable range about each base under quiet (dotted), normal (full) and active (dashed) conditions.`,
      width: WIDTH,
      height: view.height,
      body,
    },
    number,
    captionOf(
      report,
      rings.some(({ places }) => clippedPath(places.map(view.place), true, view.box) !== ''),
      thinWords(few, 'within', 'spread over the map'),
    ),
  );
}

/** About several bases the rings of three conditions would be a thicket: those that are judged are drawn, with the name of their base. */
function withJudgedRings(report: PlanReport): PlanReport {
  if (report.bases.length < 2) return report;
  return { ...report, rings: report.rings.filter(({ conditions }) => conditions === report.conditions) };
}

/** What each ring is of, where there is room for it beside its line. */
function wordsOfRings(
  { rings, bases }: PlanReport,
  classes: readonly ToleranceClass[],
  view: PlanView,
  standing: readonly TakenPlace[],
): readonly PlacedLabel[] {
  const taken = [...standing];
  return rings.flatMap(({ baseId, conditions, radiusM, places, tolerance }) => {
    const family = classes.length > 1 ? `${entryAt(classes, tolerance).letter} ` : '';
    const placed = placeOnLine(
      `${family}${bases.length > 1 ? shortText(baseId, 12) : conditions} ${groundLength(Math.round(radiusM / 100) * 100)}`,
      places.map(view.place),
      taken,
      view.box,
    );
    if (placed !== null) taken.push(roomOf(placed));
    return placed ?? [];
  });
}

/** The lines of the rings within the frame. */
function drawnRings(rings: PlanReport['rings'], { box, place }: PlanView): readonly Markup[] {
  const { left, right, top, bottom } = box;
  return [
    markup`<clipPath id="coverage-clip"><rect x="${at(left)}" y="${at(top)}" width="${at(right - left)}" height="${at(bottom - top)}"/></clipPath><g clip-path="url(#coverage-clip)">`,
    ...rings.map(({ conditions, places }) => linePath(clippedPath(places.map(place), true, box), DASHES[conditions])),
    markup`</g>`,
  ];
}

function arrowAndScale({ box: { left, right, bottom }, pixelsPerMetre }: PlanView): readonly Markup[] {
  return [
    northArrow(ARROW_X, bottom + ARROW_BELOW),
    scaleBar(
      left,
      bottom + SCALE_BELOW,
      pixelsPerMetre,
      0.25 * (right - left),
      (lengthM) => `${groundLength(lengthM)} of ground`,
    ),
  ];
}

/** A place by its class: filled within, hollow outside; where all places have one pair of tolerances, a dot or a cross. */
function signOf(
  { target, at: spot }: { readonly target: PlanReportTarget; readonly at: Place },
  classes: readonly ToleranceClass[],
): Mark {
  const classes_ = target.isWithin ? 'mark' : 'bad';
  if (classes.length < 2)
    return {
      at: spot,
      symbol: target.isWithin ? 'circle' : 'times',
      classes: classes_,
      area: target.isWithin ? 30 : 60,
    };
  return { at: spot, symbol: classOfPlace(target, classes)?.symbol ?? 'star', classes: classes_, area: 50 };
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
function captionOf(
  { axes, bases, conditions, systemName, frameName, tolerances, rings }: PlanReport,
  hasLines: boolean,
  thin: string,
): Markup {
  const isGrid = axes[0].columnName !== 'east_m';
  const turned =
    axes[0].direction === 'west'
      ? ` ${axes[0].abbreviation} grows to the west, ${axes[1].abbreviation} to the ${axes[1].direction}; the map itself has north up.`
      : '';
  const classes = toleranceClasses({ tolerances });
  const least = classes[0];
  const others = tolerances.length - classes.length;
  const rule =
    least === undefined
      ? ''
      : classes.length === 1
        ? ` Ranges are drawn for ${pairWords(least.horizontalM, least.verticalM)}.`
        : ` Pairs of tolerances: ${classWords(classes)}${others > 0 ? `; ${String(others)} more as stars, without lines` : ''}. ${bases.length > 1 ? 'A reaches least.' : 'A reaches least and is drawn under all conditions, the others under those that are judged.'}`;
  const signs =
    classes.length > 1
      ? 'Filled: within their tolerances. Hollow: outside.'
      : 'Dots: within their tolerances. Crosses: outside.';
  return markup`Coverage. ${systemName}; frame ${frameName}; ${isGrid ? 'north is grid north' : 'north at the base is true north'}.${turned} Triangles: bases. ${signs}${hasLines ? ` Lines: usable range in ${bases.length > 1 ? `${conditions} conditions about each base` : 'quiet (dotted), normal (full) and active (dashed) conditions'}, at equal heights.${rule}` : rings.length === 0 ? ' No distance from a base meets the tolerances, so no range is drawn.' : ' The usable ranges reach beyond the map.'} Names without room are left out.${thin}`;
}

/** A place of a ring, drawn in to a third of the work's size about it. */
function withinReach(
  work: readonly ReportPlace[],
  [across, up]: readonly [ReportAxis, ReportAxis],
): (place: ReportPlace) => ReportPlace {
  const [lowFirst, highFirst] = [smallestOf(work.map(({ first }) => first)), largestOf(work.map(({ first }) => first))];
  const [lowSecond, highSecond] = [
    smallestOf(work.map(({ second }) => second)),
    largestOf(work.map(({ second }) => second)),
  ];
  const reachM =
    Math.max((highFirst - lowFirst) * across.metresPerUnit, (highSecond - lowSecond) * up.metresPerUnit) / 3;
  const [first, second] = [reachM / across.metresPerUnit, reachM / up.metresPerUnit];
  return (place) => ({
    first: Math.min(highFirst + first, Math.max(lowFirst - first, place.first)),
    second: Math.min(highSecond + second, Math.max(lowSecond - second, place.second)),
  });
}

function farthest({ bases }: PlanReport): number {
  // A base that serves no point reaches nowhere.
  return bases.reduce((most, { farthestM }) => Math.max(most, farthestM ?? 0), 1000);
}
