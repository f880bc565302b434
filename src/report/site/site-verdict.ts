import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { SiteReport } from '../../records/reports/site-report.js';
import type { SiteResidual, SiteResidualRow } from '../../records/reports/parts/site-fit.js';
import type { SurfaceReport } from '../../records/reports/surface-report.js';
import { largestOf } from '../../core/numeric/extremes.js';
import { answerWord } from '../page/words/answer-word.js';
import { NO_MARKUP, markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { transferLines } from './transfers-section.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { sideOf, wayAlong } from '../page/words/side-words.js';
import type { GroundAxis } from '../page/words/side-words.js';
import { surveyLines } from '../page/words/survey-words.js';
import { counted, fixed, millimetres, trueMinus } from '../page/words/numbers.js';

/** Points named in a sentence, before the rest is counted. */
const MOST_NAMED = 5;
const LEAST_KM_M = 1000;

/** The first screen: the answer, what is off by name and axis, what to do next, what was not done. */
export function siteVerdict(report: SiteReport): readonly Markup[] {
  const { counts, answer, redundancyHeight, surface, rows } = report;
  const off = rows.filter(({ role, verdict }) => role === 'check' && verdict === 'no');
  const fitted = fittedWords(report);
  const notDone = [
    counts.check === 0 ? 'No point was kept out of the fit, so nothing checks it.' : '',
    redundancyHeight === null ? 'Heights were not fitted.' : '',
    'Nothing was left out of the fit without being asked for.',
  ].filter((text) => text !== '');
  return [
    ...(surface === null
      ? [markup`<b>${answerWord(answer)}</b> ${fitted}`]
      : [markup`<b>${answerWord(answer)}</b> ${surfaceWords(surface)}`, markup`<b>The fit.</b> ${fitted}`]),
    ...surveyLines(report),
    ...suspicionLines(report),
    ...(report.suspicions.length === 0 ? [lookFirst(report, off)] : []),
    ...(off.length === 0
      ? []
      : [markup`<b>Kept out, and off,</b> as the fit has them from their control: ${offWords(off)}.`]),
    ...transferLines(report),
    markup`<b>Next.</b> ${nextWords(report, off.length)}`,
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

/** How many points there are and of which kind, and how often more than needed was measured. */
export function fittedWords({ counts, redundancyPlan, redundancyHeight }: SiteReport): string {
  return `${counted(counts.fit, 'point')} fitted, ${String(counts.check)} kept out to check, ${verdictWords(counts)}. Redundancy ${String(redundancyPlan)} in plan${redundancyHeight === null ? '' : `, ${String(redundancyHeight)} in height`}.`;
}

/** What the fit points to, which no single residual shows, leads. */
export function suspicionLines({ suspicions }: SiteReport): readonly Markup[] {
  return suspicions.map(
    ({ text }) =>
      markup`<b>What the fit points to:</b> ${trueMinus(text)}. Do not use the site before this is settled.`,
  );
}

/** How many are not within and for review, in the words of the file of residuals. */
function verdictWords({ no, review }: SiteReport['counts']): string {
  if (no + review === 0) return 'each within by itself';
  const some = (words: string, count: number): readonly string[] => (count === 0 ? [] : [`${words} ${String(count)}`]);
  return [...some('not within:', no), ...some('for review:', review)].join(', ');
}

function lookFirst({ worst, bufferM, rows }: SiteReport, off: readonly SiteResidualRow[]): Markup {
  const doubted = rows.filter(({ verdict, role }) => role === 'fit' && verdict === 'no');
  // While something is off the site is not to be used at all.
  const use =
    worst !== null || off.length > 0 || doubted.length > 0
      ? ''
      : ` The site may be used up to ${bufferM >= LEAST_KM_M ? `${fixed(bufferM / 1000, 1)} km` : `${fixed(bufferM, 0)} m`} outside its control.`;
  if (worst !== null)
    return markup`<b>Look first</b> at ${named(worst.pointId)}${residualWords(rows, worst)}; ${worst.test}'s test ${axisWords(worst)}is ${fixed(Math.abs(worst.value), 1)}, the limit ${fixed(worst.limit, 1)}.${use}`;
  // Names that look exchanged leave no worst point: its residual is not the blunder.
  const reason = doubted[0]?.reasons[0];
  if (off.length === 0 && reason !== undefined)
    return markup`<b>Look first</b> at ${doubted.slice(0, MOST_NAMED).map(({ pointId }, index) => markup`${index === 0 ? '' : ', '}${named(pointId)}`)}: ${PROBLEM_CODES[reason].meaning}.${largestWords(rows)}${use}`;
  return off.length === 0
    ? markup`<b>No residual is beyond its test.</b>${largestWords(rows)}${use}`
    : markup`<b>No fitted point is beyond its test</b>, but points kept out are off.`;
}

/** How far the worst point is off along the axis that its test refuses, or farthest where it is of both. */
function residualWords(rows: readonly SiteResidualRow[], { pointId, what }: NonNullable<SiteReport['worst']>): string {
  const row = rows.find((one) => one.pointId === pointId && one.role === 'fit');
  if (row === undefined) return '';
  const [axis, residual] = what === 'plan' ? farthestOf(row, ['east', 'north']) : farthestOf(row, [what]);
  return residual === null
    ? ''
    : `: the fit has it ${sizeWords(residual.residualM)} ${sideOf(GROUND[axis], residual.residualM)} its control`;
}

/** Which of the numbers of a point a test is of. */
function axisWords({ what }: NonNullable<SiteReport['worst']>): string {
  return what === 'plan' ? 'of both coordinates ' : '';
}

function sizeWords(differenceM: number): string {
  const unit = lengthUnit(Math.abs(differenceM));
  return `${unit.write(Math.abs(differenceM))} ${unit.name}`;
}

/** The point with the largest residual of all, and its axis. */
function largestWords(rows: readonly SiteResidualRow[]): Markup {
  const [largest] = farthestFirst(rows);
  return largest === undefined ? NO_MARKUP : markup` The largest: ${named(largest.pointId)}${farthestAxis(largest)}.`;
}

function farthestFirst(rows: readonly SiteResidualRow[]): readonly SiteResidualRow[] {
  const size = ({ east, north, height }: SiteResidualRow): number =>
    // What was not compared is not off.
    largestOf([east, north, height].map((one) => Math.abs(one?.residualM ?? 0)));
  return rows.toSorted((a, b) => size(b) - size(a));
}

/** How well the surface predicts benchmarks that were left out, and the one it predicts worst. */
function surfaceWords({ trend, candidates, leftOut, signal }: SurfaceReport): Markup {
  const rmsM = candidates.find((one) => one.trend === trend)?.leftOutRmsM ?? null;
  const [farthest] = leftOut;
  const worst =
    farthest === undefined || farthest.errorM === null
      ? null
      : markup` The farthest is ${named(farthest.pointId)}: ${millimetres(farthest.errorM)} mm${farthest.sigmaM === null ? '' : `, ${fixed(Math.abs(farthest.errorM) / farthest.sigmaM, 1)} of its sigmas`}.`;
  return markup`Heights by a surface over ${counted(leftOut.length, 'benchmark')}: trend ${trend}, signal of ${millimetres(signal.sigmaM)} mm.${rmsM === null ? '' : ` Each left out and predicted from the others is off by ${millimetres(rmsM)} mm (RMS).`}${worst}`;
}

/** Points that were kept out and do not agree, the farthest first, each with the axis it is off on most. */
function offWords(off: readonly SiteResidualRow[]): Markup {
  const shown = farthestFirst(off).slice(0, MOST_NAMED);
  const more = off.length - shown.length;
  return markup`${shown.map((row, at) => markup`${at === 0 ? '' : ', '}${named(row.pointId)}${farthestAxis(row)}`)}${more > 0 ? ` and ${String(more)} more` : ''}`;
}

/** The residual that is farthest off, with which way the fit puts the point. */
function farthestAxis(row: SiteResidualRow): string {
  const [axis, residual] = farthestOf(row, ['east', 'north', 'height']);
  if (residual === null) return '';
  return ` (${sizeWords(residual.residualM)} ${wayAlong(GROUND[axis], residual.residualM)})`;
}

type SiteAxis = 'east' | 'north' | 'height';

const GROUND: Readonly<Record<SiteAxis, GroundAxis>> = { east: 'east', north: 'north', height: 'up' };

function farthestOf(row: SiteResidualRow, axes: readonly SiteAxis[]): readonly [SiteAxis, SiteResidual | null] {
  return axes
    .map((axis) => [axis, row[axis]] as const)
    .reduce((most, one) =>
      // What was not compared is not off.
      Math.abs(one[1]?.residualM ?? 0) > Math.abs(most[1]?.residualM ?? 0) ? one : most,
    );
}

function nextWords(
  { worst, counts, redundancyPlan, answer, warnings, suspicions, transfers }: SiteReport,
  off: number,
): Markup {
  const [first] = suspicions;
  if (first !== undefined) return markup`${sentence(suspicions.map(({ mend }) => mend).join('; '))}`;
  if (worst !== null || off > 0) {
    const what = worst === null ? 'the points named' : markup`${named(worst.pointId)}`;
    return markup`Hold ${what} against the list of control and the field notes: name, coordinate, frame, pole. Do not use the site before you know what is off.`;
  }
  const line = transfers?.rows.find((row) => row.kind === 'levelled' && row.answer === 'no');
  if (line !== undefined)
    return markup`Measure ${named(line.fromId)} and ${named(line.toId)} again, or level between them again: the two differences of height do not agree.`;
  if (redundancyPlan === 0)
    return markup`Occupy more control: with this little nothing shows a blunder, and the residuals say nothing.`;
  if (answer !== 'within' && counts.check > 0)
    return warnings.length === 0
      ? markup`See what the tables below say before the site is used: something else than a residual is open.`
      : markup`Settle before the site is used: ${trueMinus(warnings.join('; '))}.`;
  return counts.check === 0
    ? markup`Occupy one more control point and keep it out (role check): a fit does not check itself.`
    : markup`Begin each day on the site with a control point that was kept out.`;
}

function sentence(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${trueMinus(text.slice(1))}.`;
}
