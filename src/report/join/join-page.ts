import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import type { JoinColumn, JoinReport } from '../../records/reports/join-report.js';
import { wideFigure } from '../figures/figure.js';
import { linedPlan } from '../figures/plan/lined-plan.js';
import type { PlanMark } from '../figures/plan/lined-plan.js';
import { doneWord } from '../page/words/answer-word.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { columnHead } from '../page/words/column-head.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { UNKNOWN, counted, fixed, trueMinus } from '../page/words/numbers.js';
import { surveyLines } from '../page/words/survey-words.js';
import { page } from '../page/page.js';
import { filesSection, kickerOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { table } from '../page/table.js';
import { workedSection } from '../page/sections/worked-section.js';
import { warningsSection } from '../page/sections/warnings-section.js';

/** Areas that the first screen states. */
const MOST_AREAS = 3;
/** Lines of a plan; of more the longest are drawn. */
const MOST_LINES = 60;
/** Of a length in a sentence; the table has every digit. */
const DECIMALS = 3;
const WORDS = { lines: 'line', polar: 'point', area: 'area' } as const;
const TITLES = { lines: 'Lines between points', polar: 'Points set out', area: 'Areas of closed figures' } as const;

/** What the first screen says of one line. */
const OF_ONE_LINE = [
  { name: 'grid_distance_m', words: 'On the grid', unit: ' m' },
  { name: 'ellipsoidal_distance_m', words: 'on the ellipsoid', unit: ' m' },
  { name: 'ground_distance_m', words: 'on the ground', unit: ' m' },
  { name: 'grid_bearing_deg', words: 'grid bearing', unit: '°' },
  { name: 'azimuth_deg', words: 'azimuth from true north', unit: '°' },
] as const;

/** The page of joined points: one self-contained HTML file as text. */
export function joinPage(report: JoinReport): string {
  const { mode, statements } = report;
  const sections: readonly (PageSection | null)[] = [
    report.marks.length === 0 ? null : { id: 'plan', heading: 'On the plan', body: joinFigure(report, 1) },
    { id: 'results', heading: TITLES[mode], body: together(tablesOf(report)) },
    {
      id: 'meaning',
      heading: 'What each figure is',
      body: together([
        meaningTable(report),
        statements.length === 0
          ? { html: '' }
          : markup`<ul>${statements.map((text) => markup`<li>${trueMinus(text)}</li>`)}</ul>`,
      ]),
    },
    workedLines(report),
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'Ground distances hold at the mean height of a line: one factor for a whole site is an approximation.',
        'Areas and bearings of boundaries are computations, not a legal survey.',
        'What is computed from points is as good as they are: no line checks its ends.',
        ...CAUTIONS.slice(2),
      ]),
    },
  ];
  return page({
    title: onlyLine(report) ?? TITLES[mode],
    kicker: kickerOf(TITLES[mode], report),
    verdict: verdict(report),
    sections: sections.filter((section) => section !== null),
    foot: 'Figures are those of the data file. Bearings and azimuths are clockwise from north unless said otherwise. This page loads nothing and runs nothing.',
  });
}

function verdict(report: JoinReport): readonly Markup[] {
  const { answer, counts, mode, systemName, groundDifference, next } = report;
  const notDone = [
    counts.withoutHeight === 0
      ? ''
      : markup`On the ground nothing was computed of ${withoutHeightWords(counts)}: a height is not known.`,
    'No uncertainty was carried from the points to what is computed of them.',
  ].filter((text) => text !== '');
  return [
    markup`<b>${doneWord(answer)}</b> ${counted(counts.made, WORDS[mode])} computed in ${systemName}. ${counts.refused === 0 ? 'No row was refused' : `Rows refused: ${String(counts.refused)}`}${counts.withoutPlace === 0 ? '' : `; points without a position, left out: ${String(counts.withoutPlace)}`}.`,
    ...surveyLines(report),
    ...ownLine(report),
    ...areaLines(report),
    ...(groundDifference === null ? [] : [groundWords(groundDifference)]),
    next.length === 0 ? markup`<b>Next.</b> Nothing is open.` : markup`<b>Next.</b> ${next.join(' ')}`,
    markup`<b>Not done.</b> ${notDone.map((text, index) => markup`${index === 0 ? '' : ' '}${text}`)}`,
  ];
}

function withoutHeightWords({ withoutHeight, withoutHeightIds: ids }: JoinReport['counts']): Markup {
  const more = withoutHeight - ids.length;
  return markup`${ids.map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`)}${more > 0 ? ` and ${String(more)} more` : ''}`;
}

/** The one line that a page is of; null: there are several. */
function onlyLine({ mode, rows, counts }: JoinReport): string | null {
  const [row] = rows;
  return mode === 'lines' && counts.made === 1 && row !== undefined
    ? `Line from ${cellOf(row, 0)} to ${cellOf(row, 1)}`
    : null;
}

/** Of one line what a reader came for: its lengths and its bearing. */
function ownLine(report: JoinReport): readonly Markup[] {
  const [row] = report.rows;
  if (onlyLine(report) === null || row === undefined) return [];
  const said = OF_ONE_LINE.flatMap(({ name, words, unit }) => {
    const text = valueOf(report, row, name);
    return text === '' ? [] : [`${words} ${trueMinus(text)}${report.hasDms && unit === '°' ? '' : unit}`];
  });
  return [markup`<b>${named(cellOf(row, 0))} to ${named(cellOf(row, 1))}.</b> ${said.join(', ')}.`];
}

function cellOf(row: readonly string[], at: number): string {
  return row[at] ?? ''; // A row has a cell for each column.
}

function valueOf({ columns }: JoinReport, row: readonly string[], name: string): string {
  return cellOf(
    row,
    columns.findIndex((one) => one.name === name),
  ); // A column that was not written has none.
}

/** What --explain prints of the lines; of many the first. */
function workedLines(report: JoinReport): PageSection | null {
  const section = workedSection(report);
  const shown = report.worked?.length ?? 0; // Absent: nothing was asked for.
  if (section === null || shown >= report.counts.made) return section;
  return {
    ...section,
    body: together([
      markup`<p>The first ${String(shown)} of ${String(report.counts.made)} lines; the command prints all.</p>`,
      section.body,
    ]),
  };
}

/** The areas themselves, as a page of areas is asked for them. */
function areaLines(report: JoinReport): readonly Markup[] {
  const { mode, rows, counts } = report;
  if (mode !== 'area') return [];
  const at = (row: readonly string[], name: string): string => valueOf(report, row, name);
  const hectares = (text: string): string => {
    const areaM2 = parseDecimal(text);
    return fixed(areaM2 === null ? null : areaM2 / 10_000, 4);
  };
  return [
    ...rows.slice(0, MOST_AREAS).map((row) => {
      const ground = at(row, 'ground_area_m2');
      return markup`<b>${named(at(row, 'figure'))}.</b> ${hectares(at(row, 'grid_area_m2'))} ha on the grid, ${hectares(at(row, 'ellipsoidal_area_m2'))} ha on the ellipsoid${ground === '' ? '; on the ground not known without heights' : `, ${hectares(ground)} ha on the ground at the mean height of the corners`}.`;
    }),
    ...(counts.made > MOST_AREAS ? [markup`${String(counts.made - MOST_AREAS)} more are in the table.`] : []),
  ];
}

function groundWords({ fromId, toId, gridM, groundM }: NonNullable<JoinReport['groundDifference']>): Markup {
  const longer = groundM >= gridM;
  const difference = lengthUnit(Math.abs(groundM - gridM));
  return markup`<b>Grid and ground</b> differ most, for the length of a line, from ${named(fromId)} to ${named(toId)}: ${fixed(groundM, DECIMALS)} m on the ground are ${fixed(gridM, DECIMALS)} m on the grid, ${difference.write(Math.abs(groundM - gridM))} ${difference.name} ${longer ? 'less' : 'more'} (${fixed(Math.abs(groundM / gridM - 1) * 1e6, 2)} ppm).`;
}

function joinFigure(report: JoinReport, number: number): Markup {
  const { mode, axes, marks, lines: all, outlines, systemName, counts } = report;
  // Short ends of hundreds of lines would be stray dashes: the longest stand whole.
  const lines = all.length <= MOST_LINES ? all : all.toSorted((a, b) => lengthOf(b) - lengthOf(a)).slice(0, MOST_LINES);
  const plan = linedPlan({
    id: 'joins-figure',
    title: TITLES[mode],
    description:
      'Points and the lines between them on the grid. Circles are points of the file, diamonds points that were set out; dotted lines have no distance on the ground; dashed lines bound areas.',
    axes,
    lines: lines.map(({ from, to, isComplete }) => ({ from, to, answer: isComplete ? 'within' : 'review' })),
    marks: marks.map(({ pointId, place, isNew }): PlanMark => {
      const common = { place, name: pointId, ellipseM: 0, classes: 'mark' as const };
      return isNew
        ? { ...common, symbol: 'diamond', area: 34, rank: 1 }
        : { ...common, symbol: 'circle', area: 26, rank: 2 };
    }),
    ellipses: [],
    outlines,
  });
  const few = [
    plan.markCount < marks.length
      ? ` ${String(plan.markCount)} of ${String(marks.length)} points are drawn, spread over the plan.`
      : '',
    lines.length < all.length ? ` ${String(lines.length)} of ${String(all.length)} lines are drawn, the longest.` : '',
  ].join('');
  const said = {
    lines: `Lines in ${systemName}.${counts.withoutHeight > 0 ? ' Dotted: without a distance on the ground.' : ''}`,
    polar: `Points set out (diamonds) from points of the file (circles), in ${systemName}.`,
    area: `Figures (dashed) and their corners, in ${systemName}.`,
  };
  return wideFigure(plan.drawing, number, markup`${said[mode]}${few} Names without room are left out.`);
}

/** In units of the grid, as lines are told apart by. */
function lengthOf({ from, to }: JoinReport['lines'][number]): number {
  return Math.hypot(to.first - from.first, to.second - from.second);
}

/** Of lines three tables, as one is too wide to read; of anything else one. */
function tablesOf(report: JoinReport): readonly Markup[] {
  const { mode, columns } = report;
  if (mode === 'polar') return [resultTable(report, TITLES[mode], columns)];
  if (mode === 'area') return areaTables(report);
  const ends = columns.slice(0, 2);
  const kinds = new Map(columns.slice(2).map((column) => [column, tableOf(column)]));
  return (['Distances and heights', 'Directions', 'Corrections and factors'] as const).map((title) =>
    resultTable(report, title, [...ends, ...columns.filter((column) => kinds.get(column) === title)]),
  );
}

/** The areas, and what else is known of the figures: one table is too wide to read. */
function areaTables(report: JoinReport): readonly Markup[] {
  const { columns } = report;
  const isArea = ({ name }: JoinColumn): boolean => /^corners$|_m2$/u.test(name);
  const figure = columns.slice(0, 1);
  const others = columns.slice(1).filter((column) => !isArea(column));
  return [
    resultTable(report, TITLES.area, [...figure, ...columns.filter(isArea)]),
    resultTable(report, 'Boundaries and heights', [...figure, ...others]),
  ];
}

function tableOf({ name }: JoinColumn): 'Distances and heights' | 'Directions' | 'Corrections and factors' {
  if (name.endsWith('_m')) return 'Distances and heights';
  return /bearing|azimuth/u.test(name) ? 'Directions' : 'Corrections and factors';
}

function resultTable(report: JoinReport, title: string, shown: readonly JoinColumn[]): Markup {
  const { columns, rows, counts, hasDms, mode } = report;
  const places = shown.map((column) => columns.indexOf(column));
  const few =
    rows.length < counts.made
      ? ` ${String(rows.length)} of ${String(counts.made)} are shown, those without a ground distance first; the data file has all.`
      : '';
  return table({
    label: title,
    caption: markup`<b>${title}.</b> As they stand in the data file.${few}`,
    columns: shown.map(({ name, isNumber }) => ({
      ...columnHead(name, hasDms),
      kind: isNumber ? 'number' : mode === 'area' ? 'prose' : 'words',
    })),
    rows: rows.map((cells) =>
      places.map((place, index) => {
        const cell = cells[place] ?? ''; // A row has a cell for each column.
        if (shown[index]?.isNumber !== true) return named(cell);
        return cell === '' ? UNKNOWN : cell.replace('-', '\u2212');
      }),
    ),
  });
}

/** Which of the distances a tape, a plan and a deed mean. */
function meaningTable({ columns }: JoinReport): Markup {
  return table({
    label: 'What each figure is',
    caption: markup`<b>Columns of the data file.</b> A tape or a total station, levelled, measures on the ground; a plan is drawn on the grid.`,
    columns: [
      { head: 'Column', kind: 'text' },
      { head: 'What it is', kind: 'prose' },
    ],
    rows: columns.map(({ name, describe }) => [markup`<code>${name}</code>`, describe]),
  });
}
