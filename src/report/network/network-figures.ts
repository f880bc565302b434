import { normalQuantile } from '../../core/numeric/distributions/normal-quantile.js';
import { entryAt } from '../../records/present.js';
import type { NetworkPageReport, PlottedStation } from '../../records/reports/network-page-report.js';
import { wideFigure } from '../figures/figure.js';
import { linedPlan } from '../figures/plan/lined-plan.js';
import { densityWords } from '../figures/plan/ellipse-density.js';
import type { LineCounts } from '../figures/plan/drawn-lines.js';
import type { LinedPlan, PlanMark } from '../figures/plan/lined-plan.js';
import type { MarkClass } from '../figures/thinned.js';
import { xyDrawing } from '../figures/drawings/xy-drawing.js';
import type { XyPoint } from '../figures/drawings/xy-drawing.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { largestOf } from '../../core/numeric/extremes.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { fixed } from '../page/words/numbers.js';
import { shortText } from '../page/words/visible-text.js';

/** Where the figures of the page are: the frame of every number on them. */
export function frameWords({ systemName, axes }: NetworkPageReport): string {
  if (systemName === null)
    return 'No system was named: places are geocentric, laid out about the middle of the network';
  return axes[0].direction === 'west'
    ? `${systemName}; ${axes[0].abbreviation} grows to the west, ${axes[1].abbreviation} to the ${axes[1].direction}, north is up`
    : systemName;
}

/** Stations, observations and 95 % ellipses, absolute and relative. */
export function ellipseFigure(report: NetworkPageReport, number: number): Markup {
  const { stations, relative, stationCount } = report;
  const largestRelative = relative
    .toSorted((a, b) => b.summary.ellipseMajor95M - a.summary.ellipseMajor95M)
    .slice(0, MOST_RELATIVE);
  const plan = linedPlan({
    id: 'ellipses',
    title: 'Stations with their 95 % ellipses',
    description:
      'Full ellipses about stations are absolute, dashed ones about the middles of lines relative, all much enlarged. Triangles are control, circles other stations, open ones are for review; crosses are stations that an observation in doubt meets, or control that the others contradict. Lines are observations: full red ones fail, dotted ones are not checked.',
    axes: report.axes,
    lines: report.lines,
    mostQuiet: MOST_QUIET,
    marks: stations.flatMap((station) => markOf(station, LOOKS[station.point.verdict])),
    ellipses: stations.flatMap(({ ellipse, point }) =>
      ellipse === null ? [] : [{ ...ellipse, classes: 'blue', stays: point.verdict === 'no' }],
    ),
    besides: largestRelative.map((ellipse) => ({ ...ellipse, classes: 'inkline dash' })),
  });
  return wideFigure(
    plan.drawing,
    number,
    markup`Absolute (full) and relative (dashed) ellipses of 95 %${plan.exaggeration === null ? '' : `, drawn ${fixed(plan.exaggeration, 0)} times too large`}. ${report.arePairsAsked ? 'Relative ones stand at the middles of the pairs asked for.' : 'Relative ones stand half way to the nearest control.'}${largestRelative.length < relative.length ? ` The ${String(MOST_RELATIVE)} largest of ${String(relative.length)} relative ones are drawn.` : ''}${densityWords(plan.density)} Triangles: control. Open signs: for review, because nothing checks them or control beyond its test moves them. Crosses: an observation in doubt meets them, or they are control beyond its test. Lines: observations; red ones fail, dotted ones nothing checks. Names without room are left out. ${frameWords(report)}.${thinWords(plan, stationCount, report)}`,
  );
}

/** How well each station is checked; what nothing checks stands out. */
export function redundancyFigure(report: NetworkPageReport, number: number): Markup {
  const { stations, stationCount } = report;
  const plan = linedPlan({
    id: 'redundancy',
    title: 'How well each station is checked',
    description:
      'Crosses are stations that nothing checks; circles grow with the redundancy of the observations of a station; triangles are control. Dotted lines are observations that nothing checks.',
    axes: report.axes,
    lines: report.lines,
    mostQuiet: MOST_QUIET,
    marks: stations.flatMap((station) => markOf(station, station.point.isChecked ? 'mark' : 'bad')),
    ellipses: [],
  });
  return wideFigure(
    plan.drawing,
    number,
    markup`Crosses: nothing checks the station, and one blunder goes into it whole and unseen; they are named first and none is left out. Circles grow with the redundancy of the station's observations. Triangles: control. Dotted lines: observations that nothing checks; red lines: observations that fail. ${frameWords(report)}.${thinWords(plan, stationCount, report)}`,
  );
}

/** Sound observations drawn beside those that meet control: dozens from one base are a sheaf. */
const MOST_QUIET = 24;
const MOST_RELATIVE = 24;
/** Stations without a place that a caption names. */
const MOST_FLAT = 4;
const SMALL = 26;
/** Area that a unit of redundancy adds to a mark, and the largest mark. */
const AREA_A_UNIT = 9;
const LARGEST_AREA = 130;

const LOOKS = { within: 'mark', review: 'doubt', no: 'bad' } as const;

function markOf({ point, isControl, ellipse }: PlottedStation, look: MarkClass): readonly PlanMark[] {
  if (ellipse === null) return [];
  const common = { place: ellipse.place, name: point.id, ellipseM: ellipse.summary.ellipseMajor95M };
  if (look === 'bad') return [{ ...common, symbol: 'times', classes: 'bad', area: 70, rank: 0 }];
  if (isControl)
    return [{ ...common, symbol: 'triangle', classes: look === 'mark' ? 'base' : look, area: 80, rank: 1 }];
  const area = Math.min(LARGEST_AREA, SMALL + AREA_A_UNIT * point.redundancy);
  return [{ ...common, symbol: 'circle', classes: look, area, rank: look === 'mark' ? 2 : 1 }];
}

function thinWords(
  { markCount, lineCounts, areEndsOnly }: Pick<LinedPlan, 'markCount' | 'lineCounts' | 'areEndsOnly'>,
  stationCount: number,
  { stations: kept, observationCount }: NetworkPageReport,
): string {
  const flat = kept.filter(({ ellipse }) => ellipse === null).map(({ point }) => point.id);
  const without =
    flat.length === 0
      ? ''
      : ` ${flat.slice(0, MOST_FLAT).join(', ')}${flat.length > MOST_FLAT ? ` and ${String(flat.length - MOST_FLAT)} more` : ''} ${flat.length === 1 ? 'has' : 'have'} a height alone and no place on the plan.`;
  const stations =
    markCount < stationCount - flat.length
      ? ` ${String(markCount)} of ${String(stationCount)} stations are drawn.`
      : '';
  return `${stations}${without}${linesWords(lineCounts, observationCount)}${areEndsOnly ? ' Of each only the two ends are drawn, which point to each other.' : ''}`;
}

/** `the 1`, `all 2`. */
function allOf(count: number): string {
  return count === 1 ? 'the 1' : `all ${String(count)}`;
}

/** How many lines of each kind are drawn; empty where all are. */
function linesWords({ failing, doubtful, toControl, others }: LineCounts, all: number): string {
  const drawn = failing + doubtful + toControl.drawn + others.drawn;
  if (drawn === all) return '';
  const some = (count: { readonly all: number; readonly drawn: number }, words: string): readonly string[] =>
    count.all === 0
      ? []
      : [`${count.drawn === count.all ? allOf(count.all) : `${String(count.drawn)} of ${String(count.all)}`} ${words}`];
  const parts = [
    ...(failing === 0 ? [] : [`${allOf(failing)} that ${failing === 1 ? 'fails' : 'fail'}`]),
    ...(doubtful === 0 ? [] : [`${allOf(doubtful)} that nothing checks`]),
    ...some(toControl, 'that meet control'),
    ...some(others, 'others'),
  ];
  return ` Of ${String(all)} observations ${String(drawn)} are drawn: ${parts.join(', ')}; none that fails is left out.`;
}

/** Residuals drawn of those that do not fail. */
const MOST_DRAWN = 250;
const MOST_FOUL = 60;

/** Residuals in units of their sigma against what a normal curve lets one expect. */
export function residualFigure(report: NetworkPageReport, number: number): Markup | null {
  const { residuals, residualCount, worst, level } = report;
  if (residuals.length === 0 || worst === null) return null;
  const points = residualPoints(residuals);
  const named = nameFew(onceEach(points));
  const reach = Math.max(
    1,
    points.reduce((most, { x }) => Math.max(most, Math.abs(x)), 0),
  );
  const limit = worst.limit;
  return wideFigure(
    xyDrawing({
      id: 'residuals',
      title: 'Residuals against the normal curve',
      description:
        'Each residual over its sigma, against the place that a normal curve gives to it; on the straight line they are as expected. Crosses belong to observations that fail.',
      acrossTitle: 'expected, sigmas',
      upTitle: 'residual over its sigma',
      points: named,
      lines: [
        {
          places: [
            { x: -reach, y: -reach },
            { x: reach, y: reach },
          ],
          classes: 'inkline',
          word: '',
        },
      ],
      limits:
        limit === null
          ? []
          : [
              { y: limit, word: 'limit of one number' },
              { y: -limit, word: '' },
            ],
      width: 760,
      height: 420,
    }),
    number,
    markup`Residuals over their sigmas (w) in the network held by ${report.anchors.length === 1 ? 'one station' : 'one station of each part'}, against the normal curve. On the line: as the stated sigmas let expect. Steeper than the line: noisier; flatter: quieter. Ends that leave the line: blunders. Crosses: observations that fail; of a vector all three numbers are tested together, so that one may lie within the dashed limit. Tested at ${fixed(100 * level, 4)} %, so that one clean network in a hundred alarms. X, Y and Z of a vector are geocentric.${report.systemName === null ? '' : ` Frame: ${report.systemName}.`}${points.length < residualCount ? ` ${String(points.length)} of ${String(residualCount)} are drawn, evenly picked; none that fails is left out.` : ''}`,
  );
}

/** Residuals against their places on the normal curve, in the order of their size. */
function residualPoints(residuals: NetworkPageReport['residuals']): readonly XyPoint[] {
  const sorted = [...residuals].sort((a, b) => a.w - b.w || (a.name < b.name ? -1 : 1));
  const step = Math.max(1, sorted.length / MOST_DRAWN);
  let next = 0;
  return sorted.flatMap((residual, index): readonly XyPoint[] => {
    const isTurn = index >= next;
    if (isTurn) next += step;
    const isLast = index === 0 || index === sorted.length - 1;
    if (!isTurn && !residual.isFoul && !isLast) return [];
    // Blom's places: the middle of the k-th of n.
    const x = normalQuantile((index + 1 - 0.375) / (sorted.length + 0.25));
    return [
      {
        x,
        y: residual.w,
        name: residual.isFoul || isLast ? `${shortText(residual.name, 22)} ${residual.axis}` : '',
        symbol: residual.isFoul ? 'times' : 'circle',
        classes: residual.isFoul ? 'bad' : 'mark',
      },
    ];
  });
}

/** Of the three numbers of a vector the one that is farthest off is named. */
function onceEach(points: readonly XyPoint[]): readonly XyPoint[] {
  const farthest = new Map<string, number>();
  const vectorOf = (name: string): string => name.replace(/ [XYZ]$/u, '');
  for (const { name, y } of points)
    farthest.set(vectorOf(name), Math.max(Math.abs(y), farthest.get(vectorOf(name)) ?? 0)); // The first of its name.
  return points.map((point) =>
    Math.abs(point.y) < (farthest.get(vectorOf(point.name)) ?? 0) ? { ...point, name: '' } : point,
  ); // Each has been seen.
}

/** Names of the farthest only, so that they can be read. */
function nameFew(points: readonly XyPoint[]): readonly XyPoint[] {
  const named = points.filter(({ name }) => name !== '').sort((a, b) => Math.abs(b.y) - Math.abs(a.y));
  if (named.length <= MOST_FOUL) return points;
  const least = Math.abs(entryAt(named, MOST_FOUL - 1).y);
  return points.map((point) => (Math.abs(point.y) < least ? { ...point, name: '' } : point));
}

/** Control before and after: how far the network and the other control say it lies from what is stated. */
export function controlFigure(report: NetworkPageReport, number: number): Markup | null {
  const drawn = report.control.filter(({ differenceM }) => differenceM.some((value) => value !== null));
  if (drawn.length === 0) return null;
  const unit = lengthUnit(
    largestOf(drawn.flatMap(({ differenceM: [e, n] }) => [Math.abs(e ?? 0), Math.abs(n ?? 0)])), // Not known: not drawn.
  );
  const points = drawn.flatMap(({ id, differenceM: [e, n], verdict }): readonly XyPoint[] =>
    e === null || n === null
      ? []
      : [
          {
            x: unit.perMetre * e,
            y: unit.perMetre * n,
            name: shortText(id, 14),
            symbol: verdict === 'no' ? 'times' : 'circle',
            classes: verdict === 'no' ? 'bad' : 'mark',
          },
        ],
  );
  if (points.length === 0) return null;
  return wideFigure(
    xyDrawing({
      id: 'control-figure',
      title: 'Control against the network in plan',
      description:
        'East and north of where the network and the other control put each control point, from where it is stated. Crosses do not agree.',
      acrossTitle: `east, ${unit.name}`,
      upTitle: `north, ${unit.name}`,
      points,
      lines: [],
      width: 760,
      height: 400,
      isEqualScale: true,
    }),
    number,
    markup`Control before the adjustment: what the network and the other control say, less what is stated, true east and north. Crosses: beyond the limit of the test. ${report.systemName === null ? 'No system was named' : `Frame: ${report.systemName}`}.`,
  );
}
