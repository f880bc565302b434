import type { CheckReport, ReportCheck } from '../../records/reports/check-report.js';
import { answerWord } from '../page/words/answer-word.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { baseNames } from '../page/words/base-names.js';
import { counted, metres } from '../page/words/numbers.js';
import { surveyWhen } from '../page/words/survey-words.js';

const MOST_STATEMENTS = 4;
const MOST_BASES = 6;
/** The kinds of comparison, in words. */
export const KINDS: Readonly<Record<ReportCheck['kind'], string>> = {
  control: 'control',
  repeat: 'repeat',
  'base-pair': 'two bases',
  design: 'design',
  line: 'line',
};

/** The answer, what the reduction said before, the worst by name and axis, and what was not done. */
export function checkVerdict(report: CheckReport): readonly Markup[] {
  const { answer, checkCount, withinCount, exceedCount, reviewCount, judged, causes, checks } = report;
  if (checkCount === 0 && report.statements.length > 0) return statementLines(report);
  const notDone = [
    checks.some(({ kind }) => kind === 'control') ? '' : 'No control was compared.',
    checks.some(({ kind }) => kind === 'repeat') ? '' : 'Repeats were not compared.',
    causes === null ? 'No cause was looked for.' : '',
    'Nothing was corrected.',
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${counted(checkCount, 'comparison')}: ${String(withinCount)} within, ${String(reviewCount)} for review, ${String(exceedCount)} beyond, ${String(checkCount - withinCount - reviewCount - exceedCount)} that cannot be judged.${judged === null ? null : markup` Judged: ${judged}.`}`,
    ...surveyLines(report),
    ...report.day.map((line) => markup`<b>The day.</b> ${line}.`),
    ...inputLines(report),
    ...failingStatements(report),
    worstLine(report),
    markup`<b>Next.</b> ${nextWords(report)}`,
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

/** What the reduction said of the points stays said, at the top. */
function inputLines({ inputDoubts: { rejected, review, unchecked } }: CheckReport): readonly Markup[] {
  if (rejected + review === 0) return [];
  const counts = [
    rejected > 0 ? `rejected ${counted(rejected, 'point')}` : '',
    review > 0 ? `left ${counted(review, 'point')} for review` : '',
  ].filter((text) => text !== '');
  return [
    markup`<b>Before this check</b> the reduction ${counts.join(' and ')}; a small difference here does not change that.${unchecked === 0 ? '' : ` The adjustment found nothing that checks ${counted(unchecked, 'point')}: what is compared here is that one observation.`}`,
  ];
}

/** What a standard does not let one say, which makes the answer no whatever the comparisons are. */
function failingStatements({ statements }: CheckReport): readonly Markup[] {
  const failing = statements.filter(isFailing);
  if (failing.length === 0) return [];
  const shown = failing
    .slice(0, MOST_STATEMENTS)
    .map(({ what, text }, index) => `${index === 0 ? '' : '; '}${what}: ${text}`);
  return [markup`<b>By the standard, no.</b> ${capitalised(shown.join(''))}.`];
}

function isFailing({ verdict }: CheckReport['statements'][number]): boolean {
  return verdict === 'exceeds' || verdict === 'not-stated';
}

/** The worst by name and axis. */
function worstLine({ worst: { plan, height }, systemName }: CheckReport): Markup {
  const said = [
    plan === null ? null : worstOf(plan, 'in plan', planOf(plan), plan.horizontalLimitM),
    height === null ? null : worstOf(height, 'in height', height.upM, height.verticalLimitM),
  ].filter((text) => text !== null);
  if (said.length === 0) return markup`Nothing was compared.`;
  const parts = said.map((text, index) => (index === 0 ? text : markup`; ${text}`));
  return markup`<b>Worst</b> ${parts}. System: ${systemName ?? 'not stated'}.`;
}

/** What to do next, by what is open: points beyond, points for review, a statement that cannot be made, or nothing. */
function nextWords({
  answer,
  exceedCount,
  reviewCount,
  checkCount,
  withinCount,
  checks,
  ...rest
}: CheckReport): string {
  const { statements, inputDoubts } = rest;
  if (exceedCount > 0)
    return 'Look at these first, then at the others beyond: each is marked in the figures and says its reason in the table. Observe again what you cannot explain.';
  if (checkCount > withinCount + reviewCount)
    return 'State what the comparisons lack that cannot be judged: their reasons stand in the table.';
  if (reviewCount > 0 || inputDoubts.rejected + inputDoubts.review > 0)
    return 'Settle the points for review: their reasons stand in the table, and what mends each below it.';
  if (statements.some(isFailing))
    return 'Measure what the standard still asks for: the statements below say what is wanting.';
  if (answer !== 'within')
    return 'See the warnings and the statements below: something else than a difference is open.';
  return checks.some(({ kind }) => kind === 'control')
    ? 'Nothing is open here. Keep this page with the points it is of.'
    : 'Compare with control that does not come from this base: repeats do not show what they share.';
}

/** When the points were measured, and from which bases. */
function surveyLines({ surveyed, bases }: CheckReport): readonly Markup[] {
  if (surveyed === null) return [];
  const names = baseNames(bases.map(({ id }) => id));
  const shown = names.slice(0, MOST_BASES).map(({ name }, index) => markup`${index === 0 ? '' : ', '}${named(name)}`);
  const more = names.length > MOST_BASES ? ` and ${String(names.length - MOST_BASES)} more` : '';
  return [
    markup`<b>Surveyed.</b> ${surveyWhen(surveyed)}${names.length === 0 ? '' : markup`, from ${names.length === 1 ? 'base' : 'bases'} ${shown}${more}`}.`,
  ];
}

function planOf({ firstM, secondM }: ReportCheck): number | null {
  return firstM === null || secondM === null ? null : Math.hypot(firstM, secondM);
}

function worstOf(
  { pointId, kind }: ReportCheck,
  axis: string,
  differenceM: number | null,
  limitM: number | null,
): Markup {
  return markup`${axis} ${metres(differenceM === null ? null : Math.abs(differenceM))} m at ${named(pointId)}, ${KINDS[kind]}${limitM === null ? '' : `, limit ${metres(limitM)} m`}`;
}

/** A title as the beginning of a sentence; a symbol with an index stays as it is written. */
function capitalised(text: string): string {
  return text.includes('_') ? text : `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** Where series were tested and no point was compared: what the tests found, what fails first. */
function statementLines({ answer, statements, day }: CheckReport): readonly Markup[] {
  const failing = statements.filter(isFailing);
  const shown = (failing.length > 0 ? failing : statements).slice(0, MOST_STATEMENTS);
  return [
    markup`<b>${answerWord(answer)}</b> ${counted(statements.length, 'statement')}, ${failing.length === 0 ? 'none fails' : `${String(failing.length)} ${failing.length === 1 ? 'fails or cannot be made' : 'fail or cannot be made'}`}.`,
    ...shown.map(({ what, text }) => markup`<b>${capitalised(what)}.</b> ${text}.`),
    ...day.map((line) => markup`<b>The day.</b> ${line}.`),
    markup`<b>Next.</b> ${failing.length === 0 ? 'Keep the page with the equipment and the procedure it is of, and test again after repair.' : 'Find the set or series that stands out in the figure, see what was different there, and measure the test again.'}`,
    markup`<b>Not done.</b> No point was compared with control; the test says how a procedure repeats, not where its points are.`,
  ];
}
