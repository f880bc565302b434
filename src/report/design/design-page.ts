import type { DesignReport, DesignReportPoint } from '../../records/reports/design-report.js';
import { wideFigure } from '../figures/figure.js';
import { gradedMap } from '../figures/plan/graded-map.js';
import { pickedBySpread } from '../figures/plan/spread-out.js';
import { doneWord } from '../page/words/answer-word.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, metres } from '../page/words/numbers.js';
import { surveyLines } from '../page/words/survey-words.js';
import { page } from '../page/page.js';
import type { PageSection } from '../page/page.js';
import { filesSection, kickerOf, titleOf } from '../page/sections/run-facts.js';
import { table } from '../page/table.js';
import { workedSection } from '../page/sections/worked-section.js';
import { warningsSection } from '../page/sections/warnings-section.js';

const MOST_DRAWN = 80;
/** Points named on the map: those that the table begins with. */
const MOST_NAMED = 24;
const ppm = (value: number): string => fixed(value * 1e6, 1);

/** The page of a project grid: one self-contained HTML file as text. */
export function designPage(report: DesignReport): string {
  const own = report.points.find(({ pointId }) => pointId === report.onlyPoint) ?? null; // Without --explain none.
  const sections: readonly (PageSection | null)[] = [
    { id: 'map', heading: 'Distortion on the ground', body: mapFigure(report) },
    { id: 'definition', heading: 'What defines it', body: definition(report) },
    { id: 'points', heading: own === null ? 'Points' : 'The point', body: pointsTable(report, own) },
    workedSection(report),
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'A project grid is not the national system: deliver its definition with every coordinate, and never mix the two.',
        'It fits the heights it was made for. Outside the points, and on other heights, its distortion is another.',
        ...CAUTIONS.slice(2),
      ]),
    },
  ];
  return page({
    title: titleOf(report, report.name, report.name, 'on the project grid'),
    kicker: kickerOf('Project grid on the ground', report, report.name),
    verdict: own === null ? verdict(report) : ownVerdict(report, own),
    sections: sections.filter((section) => section !== null),
    foot: 'Distortion is grid length over ground length, minus 1. This page loads nothing and runs nothing.',
  });
}

function verdict(report: DesignReport): readonly Markup[] {
  const [worst] = report.points;
  return [
    markup`<b>${doneWord(report.answer)}</b> ${gridWords(report)}${worst === undefined ? null : markup` The farthest from ground lengths is ${named(worst.pointId)}, ${ppm(worst.distortion)} ppm.`}`,
    ...surveyLines(report),
    markup`With one scale for all of them, the range of the heights alone costs ${ppm(report.heightCost)} ppm.${heightWords(report)}`,
    markup`<b>Next.</b> Measure a line at the worst place with a distance meter, reduced to the ground, and hold it against the grid; then hand the definition below to all who work on the job.`,
    markup`<b>Not done.</b> Between the points, and at heights that are not theirs, nothing was looked at.`,
  ];
}

/** The first screen of the page of one point: where it is on the grid, and what a length is there. */
function ownVerdict(
  report: DesignReport,
  { pointId, place, heightM, distortion }: DesignReportPoint,
): readonly Markup[] {
  return [
    markup`<b>${doneWord(report.answer)}</b> ${named(pointId)}: easting ${metres(place.first)} m, northing ${metres(place.second)} m, height ${metres(heightM)} m.`,
    markup`<b>There</b> a length on the grid is ${fixed(Math.abs(distortion) * 1e5, 2)} mm in 100 m ${distortion < 0 ? 'shorter' : 'longer'} than on the ground (${ppm(distortion)} ppm).`,
    markup`<b>The grid.</b> ${gridWords(report)}${heightWords(report)}`,
    ...surveyLines(report),
    markup`<b>Next.</b> Measure a line there with a distance meter, reduced to the ground, and hold it against the grid.`,
    markup`<b>Not done.</b> How the other points do is on the page of the whole grid; at other heights nothing was looked at.`,
  ];
}

function gridWords({ method, baseName, count, measure, distortion }: DesignReport): string {
  return `${methodWords(method)} on the frame of ${baseName}, for ${counted(count, 'point')}: ${measure === 'largest' ? 'the largest distortion' : 'the distortion that 95 of 100 points keep'} is ${ppm(distortion)} ppm, ${fixed(distortion * 1e5, 2)} mm in 100 m.`;
}

function heightWords({ heightsAreOrthometric }: DesignReport): string {
  return heightsAreOrthometric ? ' Orthometric heights stand in for ellipsoidal ones.' : '';
}

/** What a projection is called. */
function methodWords(method: string): string {
  const words: Readonly<Record<string, string>> = {
    'transverse-mercator': 'Transverse Mercator',
    lambert: 'Lambert conic',
    'oblique-mercator': 'Oblique Mercator',
  };
  return words[method] ?? method; // Another one has a name already.
}

function mapFigure({ points, axes, name }: DesignReport): Markup {
  const worst = points.slice(0, MOST_NAMED);
  const others = pickedBySpread(
    points.slice(MOST_NAMED),
    ({ place }) => ({ x: place.first, y: place.second }),
    MOST_DRAWN - MOST_NAMED,
  );
  const drawn = [...worst, ...others];
  const left = points.length - drawn.length;
  return wideFigure(
    gradedMap({
      id: 'distortion-map',
      title: 'Map of the distortion',
      description:
        'Numbers are the distortion at a point in parts per million; the circle around each grows with its size.',
      axes,
      places: drawn.map(({ pointId, place, distortion }, at) => ({
        place,
        text: ppm(distortion),
        size: Math.abs(distortion),
        name: at < MOST_NAMED ? pointId : null,
      })),
      points: [],
      outlines: [],
    }),
    1,
    markup`Distortion at the points, ppm: positive where the grid is longer than the ground. Circles grow with its size in six grades. Points are named where there is room, the largest distortion first. Axes are those of ${name}.${left > 0 ? ` ${String(left)} more points are not drawn; of those drawn the ones that distort most come first, the others are spread over the map.` : ''}`,
  );
}

function definition({ proj, wkt, candidates, measure }: DesignReport): Markup {
  return together([
    markup`<p>Every command takes this for a system:</p><p class="worked">${proj}</p><p class="worked">${wkt}</p>`,
    table({
      label: 'Projections tried',
      caption: markup`<b>Projections tried.</b> ${measure === 'largest' ? 'Largest distortion' : 'Distortion that 95 of 100 points keep'} that each reaches.`,
      columns: [
        { head: 'Projection', kind: 'text' },
        { head: 'Distortion', unit: 'ppm', kind: 'number' },
      ],
      rows: candidates.map(({ method, distortion }) => [methodWords(method), ppm(distortion)]),
    }),
  ]);
}

function pointsTable({ points, count }: DesignReport, own: DesignReportPoint | null): Markup {
  const shown = own === null ? points : [own];
  return table({
    label: 'Points on the grid',
    caption:
      own !== null
        ? markup`<b>The one point that is explained;</b> the page of the whole grid has the others.`
        : markup`<b>Points</b>, the largest distortion first.${points.length < count ? ` ${String(points.length)} of ${String(count)} are shown.` : ''}`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Easting', unit: 'm', kind: 'number' },
      { head: 'Northing', unit: 'm', kind: 'number' },
      { head: 'Height', unit: 'm', kind: 'number' },
      { head: 'Distortion', unit: 'ppm', kind: 'number' },
      { head: 'In 100 m', unit: 'mm', kind: 'number' },
    ],
    rows: shown.map(({ pointId, place, heightM, distortion }) => [
      named(pointId),
      metres(place.first),
      metres(place.second),
      metres(heightM),
      ppm(distortion),
      fixed(distortion * 1e5, 2),
    ]),
  });
}
