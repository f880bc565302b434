import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { CarriedReport, CarriedStep } from '../../records/reports/parts/carried-report.js';
import { doneWord } from '../page/words/answer-word.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { columnHead } from '../page/words/column-head.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, millimetres, trueMinus } from '../page/words/numbers.js';
import { surveyLines } from '../page/words/survey-words.js';
import { page } from '../page/page.js';
import { filesSection, kickerOf, titleOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { reasonsTable } from '../page/sections/reasons-table.js';
import { workedSection } from '../page/sections/worked-section.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { carriedFigure } from './carried-figure.js';
import { pointsTable, refusedTable, stepsTable } from './carried-tables.js';

const LEAST_KM_M = 1000;
/** What figures of trust are, by the names of their columns. */
const TRUST_WORDS: readonly (readonly [RegExp, string])[] = [
  [/sigma_/u, 'the sigmas'],
  [/ellipse_/u, 'the ellipses'],
  [/(?:circle|vertical)_95_/u, 'the 95 % figures'],
  [/correlation_/u, 'the correlations'],
  [/verdict/u, 'the verdicts'],
  [/reasons$/u, 'the reasons'],
];
/** Rows of one name that the first screen states. */
const MOST_ROWS = 3;
/** Columns of a position or a height. */
const IS_PLACE =
  /easting|northing|westing|southing|latitude|longitude|(?:^|orthometric_|ellipsoidal_)height_m$|^[xyz]_m$|^(?:east|north|up)_m$/u;
const TITLE = 'Points carried to another system';

/** The page of points carried to another system: one self-contained HTML file as text. */
export function carriedPage(report: CarriedReport): string {
  const { refused, doubts, statements } = report;
  const sections: readonly (PageSection | null)[] = [
    report.marks.length === 0 ? null : { id: 'plan', heading: 'Where the points are', body: carriedFigure(report, 1) },
    {
      id: 'steps',
      heading: 'Steps of the way',
      body: together([
        stepsTable(report),
        statements.length === 0
          ? { html: '' }
          : markup`<ul>${statements.map((text) => markup`<li>${trueMinus(text)}</li>`)}</ul>`,
      ]),
    },
    report.rows.length === 0 ? null : { id: 'points', heading: 'Points', body: pointsTable(report) },
    refused.length === 0 ? null : { id: 'refused', heading: 'Rows refused, and why', body: refusedTable(report) },
    refused.length + doubts.length === 0
      ? null
      : {
          id: 'reasons',
          heading: 'What the reasons mean',
          body: reasonsTable([...refused, ...doubts].map(({ code }) => code)),
        },
    workedSection(report),
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'The accuracy of a change of datum is that of the published operation: often metres. Boundaries need local control.',
        'A transformation moves a wrong point as faithfully as a right one: it checks nothing that was measured.',
        'Ground coordinates look like grid coordinates: their columns are named ground_…, and they hold for one job only.',
        ...CAUTIONS.slice(2),
      ]),
    },
  ];
  return page({
    title: titleOf(report, null, TITLE, 'carried to another system'),
    kicker: kickerOf(TITLE, report),
    verdict: verdict(report),
    sections: sections.filter((section) => section !== null),
    foot: 'Positions and heights are those of the data file. Circles are of 95 %, in metres unless said otherwise. This page loads nothing and runs nothing.',
  });
}

/** The first screen: the answer, by what, how well it is known, what to look at, what to do next, what was not done. */
function verdict(report: CarriedReport): readonly Markup[] {
  const { counts, next, doubts, outside } = report;
  return [
    ...(report.onlyPoint === undefined ? [wholeLine(report)] : ownLines(report)),
    ...surveyLines(report),
    byWhat(report),
    howWell(report),
    ...groundLine(report),
    ...(doubts.length === 0
      ? []
      : report.onlyPoint !== undefined
        ? [markup`<b>In doubt:</b> ${doubts.map(({ code }) => PROBLEM_CODES[code].meaning).join('; ')}.`]
        : [
            markup`<b>Look first</b> at ${counted(counts.inDoubt, 'point')} in doubt: ${doubts.map(({ code, count, firstId }, index) => markup`${index === 0 ? '' : '; '}${PROBLEM_CODES[code].meaning} (${String(count)}, first ${named(firstId)})`)}.`,
          ]),
    ...(outside.length === 0 ? [] : [markup`<b>Outside.</b> ${outside.map(sentence).join(' ')}`]),
    next.length === 0 ? markup`<b>Next.</b> Nothing is open.` : markup`<b>Next.</b> ${next.join(' ')}`,
    notDone(report),
  ];
}

function wholeLine({ answer, counts, way, refused }: CarriedReport): Markup {
  return markup`<b>${doneWord(answer)}</b> ${counted(counts.carried, 'point')} ${way}. ${counts.refused === 0 ? 'None was refused' : markup`Refused: ${String(counts.refused)} (${refused.map(({ code, count }) => `${code} ${String(count)}`).join(', ')})`}${counts.withoutPlace === 0 ? '' : `; left out, because ${counts.withoutPlace === 1 ? 'it has' : 'they have'} no position: ${String(counts.withoutPlace)}`}.`;
}

/** Where the one point went, as the data file has it. */
function ownLines({ answer, way, rows, columns, hasDms }: CarriedReport): readonly Markup[] {
  return rows.slice(0, MOST_ROWS).map(({ pointId, cells }) => {
    const parts = columns.flatMap((name, at) => {
      const cell = cells[at] ?? ''; // A row has a cell for each column.
      if (!IS_PLACE.test(name) || cell === '') return [];
      const { head, unit = '' } = columnHead(name, hasDms);
      return [`${head} ${cell.replace('-', '\u2212')}${unit.startsWith('°') ? (hasDms ? '' : '°') : ` ${unit}`}`];
    });
    return markup`<b>${doneWord(answer)}</b> ${named(pointId)} ${way}: ${parts.join(', ')}.`;
  });
}

function sentence(line: string): string {
  return `${line.charAt(0).toUpperCase()}${line.slice(1)}${/[.?]$/u.test(line) ? '' : '.'}`;
}

function byWhat({ steps: all, isOfSite }: CarriedReport): Markup {
  // The step of a chain names its operations again, and holds their accuracy in its own.
  const chain = all.find(({ id }) => id === 'chain');
  const isOfChain = ({ id }: CarriedStep): boolean => chain !== undefined && isNamedIn(id, chain.name);
  const isSaid = chain !== undefined && all.some(isOfChain);
  const steps = isSaid ? all.filter((step) => step !== chain) : all;
  const site = all.find(({ id }) => id === 'site' || id === 'site-inverse');
  if (site !== undefined && all.length === 1)
    return markup`<b>By</b> the fitted site: ${site.name.replace(/^fitted /u, '')}${site.origin === null ? '' : ` (${site.origin})`}.`;
  if (steps.length === 0)
    return markup`<b>By a conversion alone.</b> Both systems stand on one frame: nothing is added to what the points are known to.`;
  return markup`<b>By</b> ${steps.map(({ name, id, accuracyM, origin }, index) => markup`${index === 0 ? '' : '; then '}${name} (${id}${isSaid && isOfChain({ name, id, accuracyM, origin }) ? '' : accuracyWords(accuracyM, isOfSite)}${origin === null ? '' : `; ${origin}`})`)}${isSaid ? `; with the realisation, ${accuracyWords(chain.accuracyM, isOfSite).slice(2)}` : ''}.`;
}

function accuracyWords(accuracyM: number | null, isOfSite: boolean): string {
  return accuracyM === null ? (isOfSite ? '' : ', no accuracy stated') : `, stated accuracy ${fixed(accuracyM, 3)} m`;
}

/** Whether a name holds a code as a whole word. */
function isNamedIn(id: string, name: string): boolean {
  return name.split(/[\s,]+/u).includes(id);
}

function howWell({
  largestCircle95,
  largestHeight95,
  isOfSite,
  farthestOutside,
  counts,
  onlyPoint,
}: CarriedReport): Markup {
  if (largestCircle95 === null)
    return markup`<b>Uncertainty.</b> ${counts.carried === 0 ? 'There is no point.' : 'No sigma of the points came along; that of the steps is to be added to their own.'}`;
  const { valueM, pointId } = largestCircle95;
  const isOne = onlyPoint !== undefined;
  const size = isOne
    ? markup`circle of 95 % ${millimetres(valueM)} mm`
    : markup`largest circle of 95 % ${millimetres(valueM)} mm, at ${named(pointId)}`;
  if (!isOfSite)
    return markup`<b>Uncertainty.</b> Of the points themselves, ${size}; that of the steps comes on top of it.`;
  const height =
    largestHeight95 === null
      ? null
      : markup`, in height ${isOne ? '' : 'at most '}${millimetres(largestHeight95.valueM)} mm (95 %)${isOne ? null : markup`, at ${named(largestHeight95.pointId)}`}`;
  return markup`<b>Uncertainty.</b> Of the fit itself, ${size}${height}; that of the points comes on top of it. ${
    farthestOutside === null
      ? isOne
        ? 'It lies inside its control.'
        : 'All lie inside its control.'
      : isOne
        ? markup`It lies ${farWords(farthestOutside.valueM)} outside its control.`
        : markup`Farthest outside its control: ${named(farthestOutside.pointId)}, ${farWords(farthestOutside.valueM)}.`
  }`;
}

/** Of coordinates scaled to the ground: the point at which that fits least. */
function groundLine({ statements }: CarriedReport): readonly Markup[] {
  const worst = statements.find((text) => text.startsWith('worst point against the scale'));
  return worst === undefined ? [] : [markup`<b>Ground.</b> ${sentence(trueMinus(worst))}`];
}

/** A distance in a sentence: metres below a kilometre. */
function farWords(valueM: number): string {
  return valueM < LEAST_KM_M ? `${fixed(valueM, 0)} m` : `${fixed(valueM / 1000, 1)} km`;
}

/** Figures of trust by what they are, each kind once; a name that is none of ours stays. */
function trustWords(names: readonly string[]): string {
  const words = names.map((name) => TRUST_WORDS.find(([pattern]) => pattern.test(name))?.[1] ?? name);
  const [last, ...others] = [...new Set(words)].toReversed();
  // Asked only where something was left out.
  return others.length === 0 ? (last ?? '') : `${others.toReversed().join(', ')} and ${last ?? ''}`;
}

function notDone({ leftOut, statements }: CarriedReport): Markup {
  return markup`<b>Not done.</b> ${leftOut.length === 0 ? '' : `Left out, because they do not hold any more: ${trustWords(leftOut)}. `}${statements.some((text) => text.startsWith('heights are unchanged')) ? 'Heights were not fitted. ' : ''}No point was compared with control.`;
}
