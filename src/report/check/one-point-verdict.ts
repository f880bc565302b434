import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { CheckReport, ReportCheck } from '../../records/reports/check-report.js';
import { answerWord } from '../page/words/answer-word.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, limitMetres } from '../page/words/numbers.js';
import { pointWords } from '../page/sections/run-facts.js';
import { surveyLines } from '../page/words/survey-words.js';
import { inputLines } from './check-verdict.js';
import { byCause } from './check-causes.js';
import { DECIMALS, KINDS, lineWords } from './check-worst.js';
import { capitalised } from './statement-lines.js';
import { worstFirst } from './worst-first.js';

/** Comparisons that the first screen states; the table has all. */
const MOST_STATED = 4;
const WORDS: Readonly<Record<ReportCheck['verdict'], string>> = {
  within: 'within',
  review: 'for review',
  exceeds: 'not within',
  'not-stated': 'cannot be judged',
};

/** The first screen of the page of one point: its comparisons with their sizes and limits, what would do that, what to do next. */
export function onePointVerdict(report: CheckReport, point: string): readonly Markup[] {
  const { checks, checkCount, judged, answer } = report;
  const shown = worstFirst(checks).slice(0, MOST_STATED);
  const left = checkCount - shown.length;
  const notDone = [
    checks.some(({ kind }) => kind === 'control') ? '' : 'It was not compared with control.',
    checks.some(({ kind }) => kind === 'repeat') ? '' : 'It was not compared with another occupation.',
    'What the standard says and a cause of many points are on the page of the whole check. Nothing was corrected.',
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${named(pointWords(point))}: ${counted(checkCount, 'comparison')}.${judged === null ? null : markup` Judged: ${judged}.`}`,
    ...shown.map(comparisonLine),
    ...(left === 0 ? [] : [markup`${counted(left, 'more comparison')}, none of them worse, below.`]),
    ...causeLine(report),
    markup`<b>Next.</b> ${nextWords(report)}`,
    ...inputLines(report),
    ...surveyLines(
      report,
      report.bases.map(({ id }) => id),
    ),
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

function comparisonLine(check: ReportCheck): Markup {
  const { firstM, secondM, upM, exceeds } = check;
  const planM = firstM === null || secondM === null ? null : Math.hypot(firstM, secondM);
  const axes = [
    axisWords('in plan', planM, check.horizontalLimitM, check.circle95M, exceeds.plan),
    axisWords('in height', upM, check.verticalLimitM, check.vertical95M, exceeds.height),
  ].filter((text) => text !== '');
  return markup`<b>${againstWords(check)}: ${WORDS[check.verdict]}.</b> ${capitalised(axes.length === 0 ? 'nothing was compared' : axes.join('; '))}${check.line === null ? null : markup` (${lineWords(check.line, check.against)})`}.`;
}

/** With what it was compared. */
function againstWords({ kind, occupation, against }: ReportCheck): Markup {
  switch (kind) {
    case 'repeat':
      return markup`Repeat, occupation ${occupation} against ${named(against)}`;
    case 'base-pair':
      return markup`Two bases, occupation ${occupation} against ${named(against)}`;
    case 'control':
    case 'design':
    case 'line':
      return markup`${capitalised(KINDS[kind])} ${named(against)}, occupation ${occupation}`;
  }
}

/** A difference and what it may be: its limit; without one what its own uncertainty lets expect. */
function axisWords(
  axis: string,
  valueM: number | null,
  limitM: number | null,
  ninetyFiveM: number | null,
  exceeds: boolean,
): string {
  if (valueM === null) return '';
  const size = `${axis} ${fixed(Math.abs(valueM), DECIMALS)} m`;
  if (limitM !== null) return `${size}, limit ${limitMetres(limitM)} m`;
  return ninetyFiveM === null
    ? `${size}, without a limit or an uncertainty`
    : `${size}, 95 % of its uncertainty ${fixed(ninetyFiveM, DECIMALS)} m${exceeds ? ', beyond it' : ''}`;
}

/** What would explain that its occupations disagree. */
function causeLine({ repeatCauses }: CheckReport): readonly Markup[] {
  const titles = byCause(repeatCauses).flatMap((same) => same.slice(0, 1).map(({ title }) => title));
  return titles.length === 0
    ? []
    : [markup`<b>Its occupations disagree.</b> Likeliest: ${titles.join('; ')}. A lead, not a proof.`];
}

/** Said of a search over many points, which a page of one has not. */
const OF_MANY = 'see the likely cause';

function nextWords({ checks, answer }: CheckReport): string {
  const codes = new Set(worstFirst(checks).flatMap(({ reasons }) => reasons));
  const fixes = new Set([...codes].flatMap((code) => PROBLEM_CODES[code].fix.split('; ')));
  if (answer === 'within') return 'Nothing is open at this point. Keep this page with it.';
  if (fixes.size === 0) return 'State what the comparison lacks: its working is below.';
  const isOfMany = fixes.delete(OF_MANY);
  return `${isOfMany ? 'See first whether the page of the whole check names a cause of many points. ' : ''}${fixes.size === 0 ? '' : `${capitalised([...fixes].join('; '))}.`}`;
}
