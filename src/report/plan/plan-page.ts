import type { PlanReport, PlanReportCurve, PlanReportTarget } from '../../records/reports/plan-report.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { evenlyPicked } from '../figures/evenly-picked.js';
import { wideFigure } from '../figures/figure.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, dateAndTime, fixed, kilometres, utcDate, utcTime, utcWords } from '../page/words/numbers.js';
import { page } from '../page/page.js';
import { filesSection, kickerOf, titleOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { table } from '../page/table.js';
import { workedSection } from '../page/sections/worked-section.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { thinned, thinWords } from '../figures/thinned.js';
import { xyDrawing } from '../figures/drawings/xy-drawing.js';
import type { XyLine, XyPoint } from '../figures/drawings/xy-drawing.js';
import { coverageFigure } from './coverage-figure.js';
import { onePlace, onePlaceVerdict } from './one-place.js';
import { byShare, placeShare } from './place-share.js';
import { rankingTable, rangesTable, targetsTable } from './plan-tables.js';
import { streamTable, visitsTable } from './day-tables.js';
import { answerWord } from '../page/words/answer-word.js';
import { entryAt } from '../../records/present.js';

/** Of the places within; those outside are all drawn. */
const MOST_DRAWN = 300;
const MOST_OUTSIDE = 6;
const PRACTICE = 'common practice, no published source';
const DASHES = { quiet: 'inkline dotted', normal: 'blue', active: 'inkline dash' } as const;

/** The page of a plan: one self-contained HTML file as text. */
export function planPage(whole: PlanReport): string {
  const one = onePlace(whole);
  // Figures of a coverage show every place, which tells where the one lies.
  const report = one === null ? whole : one.own;
  const sections: readonly (PageSection | null)[] = [
    {
      id: 'coverage-section',
      heading: 'Coverage',
      body: together([coverageFigure(whole, 1), basesTable(report), rankingTable(report)]),
    },
    {
      id: 'distance',
      heading: 'What distance does',
      body: together([curveFigure(report, 2, 'plan'), curveFigure(report, 3, 'height'), rangesTable(report)]),
    },
    report.visits === null || (one !== null && report.visits.length === 0)
      ? null
      : { id: 'timetable', heading: 'Timetable', body: visitsTable(report.visits, report.visitCount, report.leftOut) },
    report.stream === null ? null : { id: 'data', heading: 'Data budget', body: streamTable(report.stream) },
    { id: 'places', heading: one === null ? 'Every place' : 'The place', body: targetsTable(report) },
    workedSection(report),
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        ...report.cautions.map(({ text, source }) =>
          source === PRACTICE ? text : `${text.replace(/\.$/u, '')} (${source}).`,
        ),
        ...(report.cautions.some(({ source }) => source === PRACTICE)
          ? ['Of the cautions above those that name no source are common practice; none is published.']
          : []),
        'A plan predicts from a model of errors. Obstructions, interference and storms are not in it.',
        ...CAUTIONS.slice(2, 4),
      ]),
    },
  ];
  return page({
    title: titleOf(report, report.title, 'Plan of base and rover work', 'in the plan'),
    kicker: kickerOf('Plan before driving out', report, report.title),
    verdict: one === null ? verdict(report) : onePlaceVerdict(whole, one),
    sections: sections.filter((section) => section !== null),
    foot: 'Figures are predictions at 95 %, in metres unless a column says otherwise. This page loads nothing and runs nothing.',
  });
}

function verdict(report: PlanReport): readonly Markup[] {
  const { answer, targetCount, outsideCount, conditions, bases, withinBy, visits, stream } = report;
  const notDone = [
    visits === null ? 'No timetable was asked for.' : '',
    stream === null ? 'No data budget was asked for.' : '',
    withoutHeights(report),
    'The sky at each place was not looked at.',
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${counted(targetCount, 'place')}, ${String(outsideCount)} outside their tolerances in ${conditions} conditions. Within: ${withinBy.map((entry) => `${entry.conditions} ${String(entry.count)}`).join(', ')}.`,
    ...leftOutLine(report),
    ...outsideLine(report),
    ...dayLine(report),
    markup`<b>${bases.length === 1 ? 'Base.' : 'Bases.'}</b> ${bases.map((base, index) => markup`${index === 0 ? '' : '; '}${bases.length === 1 && base.id === 'base' ? 'At' : markup`${named(base.id)} at`} ${fixed(base.latitudeDeg, 6)}, ${fixed(base.longitudeDeg, 6)}${base.farthestM === null || base.farthestId === null ? '' : markup`; farthest from it is ${named(base.farthestId)}, ${kilometres(base.farthestM, 1)} km`}`)}.`,
    markup`<b>Next.</b> ${nextWords(report)}`,
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

/** What could not be predicted because a height is not known, of a base or of places. */
function withoutHeights({ bases, withoutHeightCount }: PlanReport): string {
  const flat = bases.filter(({ ellipsoidalHeightM }) => ellipsoidalHeightM === null).length;
  const left = 'what grows with height difference is left out';
  if (withoutHeightCount === 0) return '';
  if (flat > 0) return `${flat === 1 ? 'A base has' : `${String(flat)} bases have`} no height: ${left} from there.`;
  return `${counted(withoutHeightCount, 'place')} ${withoutHeightCount === 1 ? 'has' : 'have'} no height: ${left} for ${withoutHeightCount === 1 ? 'it' : 'them'}.`;
}

/** When the days begin and end, how far is driven, and what the link costs, as far as these were asked for. */
function dayLine({ visits, visitCount, stream }: PlanReport): readonly Markup[] {
  const cost = stream === null ? '' : ` The link: ${fixed(stream.billedMb, 1)} MB billed in ${String(stream.hours)} h.`;
  const [first] = visits ?? []; // Not asked for: none.
  if (visits === null || first === undefined)
    return cost === '' ? [] : [markup`<b>Data.</b>${cost.replace(' The link: ', ' ')}`];
  // A list that was bounded tells neither the end of the days nor how far is driven.
  if (visits.length < visitCount) return cost === '' ? [] : [markup`<b>Data.</b>${cost.replace(' The link: ', ' ')}`];
  const firstMs = 1000 * visits.reduce((least, { arriveS }) => Math.min(least, arriveS), first.arriveS);
  const lastMs = 1000 * visits.reduce((most, { endS }) => Math.max(most, endS), first.endS);
  const driveM = visits.reduce((sum, one) => sum + one.driveM, 0);
  const until = utcDate(lastMs) === utcDate(firstMs) ? `${utcTime(lastMs).slice(0, 5)} UTC` : utcWords(lastMs, 5);
  return [
    markup`<b>${utcDate(lastMs) === utcDate(firstMs) ? 'The day.' : 'The days.'}</b> ${dateAndTime(firstMs, 5)} to ${until}, ${counted(visits.length, 'visit')}, ${kilometres(driveM, 0)} km of driving.${cost}`,
  ];
}

/** Places of the plan that its days have no time for, whatever their tolerances. */
function leftOutLine({ leftOut, fitsNoDay }: PlanReport): readonly Markup[] {
  const ids = [...new Set(leftOut.map(({ pointId }) => pointId))];
  if (ids.length === 0) return [];
  const more = ids.length > MOST_OUTSIDE ? ` and ${String(ids.length - MOST_OUTSIDE)} more` : '';
  return [
    markup`<b>No time for</b> ${ids.slice(0, MOST_OUTSIDE).map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`)}${more}: ${fitsNoDay ? `no day of these hours holds ${ids.length === 1 ? 'it' : 'them'} beside control and the drive, so no further day is laid out` : `the days planned do not hold all occupations of ${ids.length === 1 ? 'it' : 'them'}`}.`,
  ];
}

function nextWords({ outsideCount, targets, leftOut }: PlanReport): string {
  if (outsideCount === 0 && leftOut.length > 0)
    return 'Give the days more hours, plan one more, or a second crew, for the places without time; then see the ground at the base and the sky over the worst place.';
  if (outsideCount === 0)
    return 'See the ground at the base, and the sky over the worst place, before driving out; put a known point at the beginning and the end of the day.';
  const outside = targets.filter(({ isWithin }) => !isWithin);
  return outside.length === outsideCount && outside.every(({ isHopeless }) => isHopeless)
    ? 'No place for a base helps: agree on wider tolerances, or measure these places from near control with level and total station.'
    : 'Change what would help, or set the base nearer to the places outside, and plan again before driving out.';
}

/** The places outside by name, the farthest beyond first, with their axis and what would help. */
function outsideLine({ targets, outsideCount }: PlanReport): readonly Markup[] {
  const outside = byShare(targets.filter(({ isWithin }) => !isWithin));
  if (outside.length === 0) return [];
  const shown = outside.slice(0, MOST_OUTSIDE);
  const more = outsideCount - shown.length;
  const places = shown.map((target, index) => {
    const { share, axis } = placeShare(target);
    // What is just outside is not to read as if it were within.
    const size =
      share > 0 ? ` (${axis}, ${fixed(share, share < 1.095 ? (share < 1.005 ? 4 : 2) : 1)} times its tolerance)` : '';
    return markup`${index === 0 ? '' : ', '}${named(target.id)}${size}`;
  });
  const help = [...new Set(shown.map(({ wayOut }) => wayOut))].filter((way) => way !== '');
  return [
    markup`<b>Outside:</b> ${places}${more > 0 ? ` and ${String(more)} more` : ''}.${help.length === 0 ? '' : ` What would help: ${help.join('; ')}; place by place in the table.`}`,
  ];
}

function basesTable({ bases }: PlanReport): Markup {
  return table({
    label: 'Bases',
    caption: markup`<b>Bases.</b>`,
    columns: [
      { head: 'Base', kind: 'words' },
      { head: 'Latitude', unit: '°', kind: 'number' },
      { head: 'Longitude', unit: '°', kind: 'number' },
      { head: 'h', unit: 'm, ellipsoidal', kind: 'number' },
      { head: 'Places', kind: 'number' },
      { head: 'Outside', kind: 'number' },
      { head: 'Farthest', unit: 'km', kind: 'number' },
    ],
    rows: bases.map((base) => [
      named(base.id),
      fixed(base.latitudeDeg, 6),
      fixed(base.longitudeDeg, 6),
      fixed(base.ellipsoidalHeightM, 1),
      String(base.targets),
      String(base.outside),
      kilometres(base.farthestM, 1),
    ]),
  });
}

/** Predicted 95 % over distance for the three conditions, with the tolerances and the places of the plan. */
function curveFigure(report: PlanReport, number: number, axis: 'plan' | 'height'): Markup {
  const { curves, targets, tolerances, epochCount, conditions } = report;
  const of = (place: PlanReportCurve['places'][number]): number =>
    1000 * (axis === 'plan' ? place.circle95M : place.vertical95M);
  const limits = [
    ...new Set(tolerances.flatMap(({ horizontalM, verticalM }) => (axis === 'plan' ? horizontalM : verticalM) ?? [])),
  ].sort((a, b) => a - b);
  const shownLimits = limits.length <= 4 ? limits : [entryAt(limits, 0), entryAt(limits, limits.length - 1)];
  const lines: XyLine[] = [
    ...curves.map((curve): XyLine => ({
      places: curve.places.map((place) => ({ x: place.distanceM / 1000, y: of(place) })),
      classes: DASHES[curve.conditions],
      word: curve.conditions,
    })),
  ];
  // A place that the other axis alone puts outside is within here.
  const look = (target: PlanReportTarget): 'mark' | 'bad' => {
    const [predictedM, toleranceM] =
      axis === 'plan'
        ? [target.circle95M, target.toleranceHorizontalM]
        : [target.vertical95M, target.toleranceVerticalM];
    return toleranceM !== null && predictedM > toleranceM ? 'bad' : 'mark';
  };
  const few = thinned(targets, look, (good) => evenlyPicked(good, MOST_DRAWN));
  const kept =
    targets.length < report.targetCount
      ? ` The page keeps ${String(targets.length)} of ${String(report.targetCount)} places, those outside first.`
      : '';
  const thin = `${thinWords(few, 'within', 'evenly picked')}${kept}`;
  const points = few.drawn.map((target): XyPoint => ({
    x: target.baselineM / 1000,
    y: 1000 * (axis === 'plan' ? target.circle95M : target.vertical95M),
    name: '',
    symbol: look(target) === 'mark' ? 'circle' : 'times',
    classes: look(target),
  }));
  const occupation = epochCount === 1 ? 'a single epoch' : `one occupation of ${String(epochCount)} s`;
  return wideFigure(
    xyDrawing({
      id: `curve-${axis}`,
      title: `Predicted 95 % in ${axis} against distance`,
      description: `Predicted 95 % figure in millimetres over the distance from the base in kilometres, for quiet, normal and active conditions, with the tolerances as dashed level lines and the planned places as dots.`,
      acrossTitle: 'distance from the base, km',
      upTitle: `95 % in ${axis}, mm`,
      points,
      lines,
      limits: shownLimits.map((limitM) => ({ y: 1000 * limitM, word: `tolerance ${fixed(1000 * limitM, 0)} mm` })),
      width: 760,
      height: 320,
      from: { x: 0, y: 0 },
    }),
    number,
    markup`Predicted 95 % in ${axis} against distance, for ${occupation} at equal heights. Dotted: quiet. Full: normal. Long dashes in ink: active. Dashed level lines: tolerances. Dots and crosses: the planned places in ${conditions} conditions, heights included, within and outside their tolerance in ${axis}; what is outside in the other axis alone is a dot here. Lengths are on the ellipsoid of ${report.frameName}.${thin}`,
  );
}
