import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { SiteReport } from '../../records/reports/site-report.js';
import type { SiteResidual, SiteResidualRow } from '../../records/reports/parts/site-fit.js';
import { answerWord } from '../page/words/answer-word.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { sideOf } from '../page/words/side-words.js';
import { surveyLines } from '../page/words/survey-words.js';
import { fixed } from '../page/words/numbers.js';
import { fittedWords, suspicionLines } from './site-verdict.js';

const AXES = ['east', 'north', 'height'] as const;

/** The first screen of the page of one control point: how it fits, by which test, what the others say of it, and the fit as a whole. */
export function oneControlVerdict(report: SiteReport, row: SiteResidualRow): readonly Markup[] {
  const isKeptOut = row.role === 'check';
  return [
    markup`<b>${answerWord(row.verdict)}</b> ${named(row.pointId)}, ${isKeptOut ? 'kept out to check' : 'a point of the fit'}: the fit puts it ${sides(row, ({ residualM }) => residualM)} its control.`,
    isKeptOut ? allowedLine(row) : testLine(row, report),
    ...(isKeptOut ? [] : withoutLine(row)),
    ...suspicionLines(report),
    markup`<b>Next.</b> ${nextWords(row, report)}`,
    markup`<b>The whole fit.</b> ${answerWord(report.answer)} ${fittedWords(report)}`,
    ...surveyLines(report),
    markup`<b>Not done.</b> ${isKeptOut ? 'It took no part in the fit.' : 'A point of the fit does not check it: points kept out do.'} How the other points fit is on the page of the whole fit.`,
  ];
}

/** `14.8 mm west of, 5.1 mm north of and 4.6 mm above`; what was not compared is left out. */
function sides(row: SiteResidualRow, of: (residual: SiteResidual) => number | null): string {
  const parts = AXES.flatMap((axis) => {
    const value = row[axis] === null ? null : of(row[axis]);
    return value === null ? [] : [{ axis, value }];
  });
  const said = parts.map(({ axis, value }) => `${length(value)} ${sideOf(axis === 'height' ? 'up' : axis, value)}`);
  return said.length < 2 ? said.join('') : `${said.slice(0, -1).join(', ')} and ${said.slice(-1).join('')}`;
}

function length(valueM: number): string {
  const unit = lengthUnit(Math.abs(valueM));
  return `${unit.write(Math.abs(valueM))} ${unit.name}`;
}

function byAxis(
  row: SiteResidualRow,
  of: (residual: SiteResidual) => number | null,
  write: (value: number) => string,
): string {
  return AXES.flatMap((axis) => {
    const value = row[axis] === null ? null : of(row[axis]);
    return value === null ? [] : [`${axis} ${write(value)}`];
  }).join(', ');
}

/** What a fitted point is held against. */
function testLine(row: SiteResidualRow, { testLimits: { plan, height } }: SiteReport): Markup {
  const values = byAxis(
    row,
    ({ baarda }) => baarda,
    (value) => fixed(value, 2),
  );
  if (values === '')
    return markup`<b>Its test.</b> No sigmas are stated: it is held against what the residuals of all show, by Pope's test in the working below.`;
  const limits = [
    ...(plan === null || row.east?.baarda == null ? [] : [`${fixed(plan, 2)} in plan`]),
    ...(height === null || row.height?.baarda == null ? [] : [`${fixed(height, 2)} in height`]),
  ];
  return markup`<b>Its test.</b> By Baarda's, residual over its sigma: ${values}; limit ${limits.join(', ')}.`;
}

/** What a point that was kept out may be off. */
function allowedLine(row: SiteResidualRow): Markup {
  const sigmas = byAxis(row, ({ sigmaM }) => sigmaM, length);
  const limit = row.limitM === null ? '' : ` Limit in plan ${length(row.limitM)}.`;
  return markup`<b>Allowed.</b> ${sigmas === '' ? 'No sigma of its difference is stated.' : `One sigma of its difference: ${sigmas}.`}${limit}`;
}

/** Where the other points put it, and what blunder in it nothing would show. */
function withoutLine(row: SiteResidualRow): readonly Markup[] {
  const others = sides(row, ({ leftOutM }) => leftOutM);
  const seen = byAxis(row, ({ detectableM }) => detectableM, length);
  if (others === '') return [];
  return [
    markup`<b>Without it</b> the others put it ${others} its control.${seen === '' ? '' : ` The smallest blunder in it that the test just finds: ${seen}.`}`,
  ];
}

function nextWords(row: SiteResidualRow, { answer, suspicions }: SiteReport): Markup {
  if (suspicions.length > 0) return markup`Settle what the fit points to before the site is used.`;
  if (row.verdict === 'no')
    return markup`Hold ${named(row.pointId)} against the list of control and the field notes: name, coordinate, frame, pole. Do not use the site before you know what is off.`;
  const fixes = [...new Set(row.reasons.map((code) => PROBLEM_CODES[code].fix))].join('; ');
  if (fixes !== '') return markup`${fixes.slice(0, 1).toUpperCase()}${fixes.slice(1)}.`;
  return answer === 'within'
    ? markup`Nothing is open at this point.`
    : markup`Nothing is open at this point, but the fit is: see the page of the whole fit before the site is used.`;
}
