import { entryAt } from '../../records/present.js';
import type { CheckReport, ReportCause, ReportCheck } from '../../records/reports/check-report.js';
import { answerWord } from '../page/words/answer-word.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed } from '../page/words/numbers.js';
import { byCause, causeName, sizesOf } from './check-causes.js';
import { KINDS, worstLine } from './check-worst.js';
import { fixesLines, fixesNext } from './fixes-section.js';
import { dayWords } from '../page/words/day-words.js';
import {
  capitalised,
  failingStatements,
  hasBias,
  hasMend,
  isFailing,
  isNotJudged,
  standardLine,
  statementLines,
} from './statement-lines.js';
import { surveyLines } from '../page/words/survey-words.js';

/** Causes of repeats, and points of each, that the first screen names. */
const MOST_GROUPS = 3;
const MOST_NAMED = 6;
/** The answer, what the reduction said before, the worst by name and axis, and what was not done. */
export function checkVerdict(report: CheckReport): readonly Markup[] {
  const { checkCount, withinCount, exceedCount, reviewCount, judged, causes, checks } = report;
  if (checkCount === 0 && report.statements.length > 0) return statementLines(report);
  if (checkCount === 0 && report.fixes !== null) return fixesVerdict(report);
  const unjudged = checkCount - withinCount - reviewCount - exceedCount;
  const notDone = [
    checks.some(({ kind }) => kind === 'control') ? '' : 'No control was compared.',
    checks.some(({ kind }) => kind === 'repeat') ? '' : 'Repeats were not compared.',
    causes === null ? 'No cause was looked for.' : '',
    'Nothing was corrected.',
    ...report.statements
      .filter(isNotJudged)
      .map(({ text }) => `Asked by the standard and not judged here: ${text.replace(/^cannot be stated: /u, '')}.`),
  ].filter((text) => text !== '');
  return [
    markup`<b>${headline(report)}</b> ${counted(checkCount, 'comparison')}: ${String(withinCount)} within, ${String(reviewCount)} for review, ${String(exceedCount)} beyond${unjudged === 0 ? '' : `, ${String(unjudged)} that cannot be judged`}.${judged === null ? null : markup` Judged: ${judged}.`}`,
    ...(report.exceedCount === 0 ? failingStatements(report) : []),
    worstLine(report),
    ...likeliestLine(report),
    // One cause of many points is a likeliest cause too.
    ...(report.repeatOffset === null ? [] : repeatLines(report)),
    markup`<b>Next.</b> ${nextWords(report)}`,
    ...(report.exceedCount === 0 ? [] : failingStatements(report)),
    ...standardLine(report),
    ...beyondLines(report),
    ...(report.repeatOffset === null ? repeatLines(report) : []),
    ...inputLines(report),
    ...fixesLines(report),
    ...report.day.map((line) => markup`<b>The day.</b> ${dayWords(line)}.`),
    ...surveyLines(
      report,
      report.bases.map(({ id }) => id),
    ),
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

/** Where raw fixes were counted and no point was compared. */
function fixesVerdict(report: CheckReport): readonly Markup[] {
  return [
    markup`<b>${answerWord(report.answer)}</b> Raw fixes were counted by the limits; no point was compared.`,
    ...surveyLines(report),
    ...fixesLines(report),
    markup`<b>Next.</b> ${fixesNext(report) ?? 'Reduce the fixes and compare their points with control.'}`,
    markup`<b>Not done.</b> Nothing was reduced, compared or corrected.`,
  ];
}

/** The answer; where the standard alone makes it no, or what could not be compared, that is said before any count. */
function headline({ answer, exceedCount, statements, inputDoubts }: CheckReport): string {
  const failing = statements.filter(isFailing);
  if (answer !== 'no' || exceedCount > 0 || inputDoubts.rejected > 0 || failing.length === 0) return answerWord(answer);
  return failing.some(hasMend) ? 'Not within: not all could be compared.' : 'Not within, by the standard alone.';
}

/** What the reduction said of the points stays said, at the top. */
export function inputLines({
  inputDoubts: { rejected, review, unchecked, rejectedIds, reviewIds },
}: CheckReport): readonly Markup[] {
  if (rejected + review === 0) return [];
  const counts = [
    ...(rejected > 0 ? [markup`rejected ${counted(rejected, 'occupation')} (${namesOf(rejectedIds)})`] : []),
    ...(review > 0 ? [markup`left ${counted(review, 'occupation')} for review (${namesOf(reviewIds)})`] : []),
  ];
  return [
    markup`<b>Before this check</b> the reduction ${counts.map((text, index) => (index === 0 ? text : markup` and ${text}`))}; a small difference here does not change that.${unchecked === 0 ? '' : ` The adjustment found nothing that checks ${counted(unchecked, 'point')}: what is compared here is that one observation.`}`,
  ];
}

function namesOf(ids: readonly string[]): Markup {
  const more = ids.length > MOST_NAMED ? ` and ${String(ids.length - MOST_NAMED)} more` : '';
  return markup`${ids.slice(0, MOST_NAMED).map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`)}${more}`;
}

/** What to do next, by what is open: points beyond, points for review, a statement that cannot be made, or nothing. */
function nextWords(report: CheckReport): Markup {
  const cause = likeliest(report);
  return cause === null
    ? report.repeatOffset !== null && report.exceedCount > 0
      ? markup`Find what changed between the two rounds (base, pole, settings) before any point is observed again.${controlToo(report)}`
      : markup`${nextByCounts(report)}`
    : markup`Confirm the likeliest cause before any point is observed again or corrected: ${cause.confirm}.`;
}

/** Control beyond its limit is no matter of two rounds: it has to be looked at all the same, the worst first. */
function controlToo({ beyond, worst }: CheckReport): Markup | null {
  if (!beyond.byKind.some(({ kind, count }) => kind === 'control' && count > 0)) return null;
  const first = [worst.plan, worst.height].find((one) => one?.kind === 'control' && one.verdict === 'exceeds') ?? null; // None: the worst are others.
  return markup` Then look at the control that is beyond${first === null ? '' : markup`, ${named(first.pointId)} first`}.`;
}

/** The one cause that explains the residuals best, where some are beyond; null: there is none. */
function likeliest({ causes, exceedCount }: CheckReport): ReportCause | null {
  return exceedCount === 0 || causes?.verdict !== 'named' ? null : (causes.causes[0] ?? null); // None is a list that is empty.
}

/** How many are beyond, by what they were compared with and by axis; nothing where the worst line says enough. */
function beyondLines(report: CheckReport): readonly Markup[] {
  const { plan, height, byKind } = report.beyond;
  if (areAllNamed(report)) return [];
  const kinds = byKind.map(({ kind, count }) => `${KINDS[kind]} ${String(count)}`).join(', ');
  const ids = [...new Set(report.checks.flatMap(({ verdict, pointId }) => (verdict === 'exceeds' ? [pointId] : [])))];
  const names = ids.length > MOST_NAMED ? null : markup` (${namesOf(ids)})`;
  return [markup`<b>Beyond.</b> In plan ${String(plan)}, in height ${String(height)}; ${kinds}${names}.`];
}

/** Whether the worst of the two axes are all that is beyond. */
function areAllNamed({ exceedCount, worst: { plan, height } }: CheckReport): boolean {
  const keyOf = ({ kind, pointId, occupation, against }: ReportCheck): string =>
    [kind, pointId, occupation, against].join('\n');
  const said = [
    plan?.exceeds.plan === true ? [keyOf(plan)] : [],
    height?.exceeds.height === true ? [keyOf(height)] : [],
  ];
  return exceedCount <= new Set(said.flat()).size;
}

/** Many that disagree by one vector have one cause. */
function commonWords({ repeatOffset }: CheckReport): string {
  if (repeatOffset === null) return '';
  const { count, of, offset } = repeatOffset;
  const mm = (metres: number): string => fixed(metres * 1000, 0);
  return ` Of these ${String(of)}, ${String(count)} do so by one vector (east ${mm(offset.eastM)} mm, north ${mm(offset.northM)} mm, up ${mm(offset.upM)} mm): one cause is likelier than so many, such as the base set up anew between, another pole, or another day's settings.`;
}

/** What would explain the residuals together. */
function likeliestLine(report: CheckReport): readonly Markup[] {
  const cause = likeliest(report);
  const tied = (report.causes?.causes ?? []).filter(({ isTied }) => isTied).length; // No search, no ties.
  return cause === null
    ? []
    : [
        markup`<b>Likeliest cause.</b> ${capitalised(causeName(cause))}${sizesOf(cause) === '' ? '' : `: ${sizesOf(cause)}`}${tied > 1 ? `; ${String(tied - 1)} more cannot be told from it` : ''}. A lead, not a proof.`,
      ];
}

/** What would explain the points whose occupations disagree. */
function repeatLines(report: CheckReport): readonly Markup[] {
  const groups = byCause(report.repeatCauses).toSorted((a, b) => b.length - a.length);
  if (groups.length === 0) return [];
  const shown = groups.slice(0, MOST_GROUPS).map((same, index) => {
    const names = same.slice(0, MOST_NAMED).map(({ pointId }, at) => markup`${at === 0 ? '' : ', '}${named(pointId)}`);
    const more = same.length > MOST_NAMED ? ` and ${String(same.length - MOST_NAMED)} more` : '';
    return markup`${index === 0 ? '' : '; '}${entryAt(same, 0).title} (${names}${more})`;
  });
  return [
    markup`<b>Occupations disagree</b> at ${counted(report.repeatCauses.length, 'point')}; the likeliest for each: ${shown}.${commonWords(report)}`,
  ];
}

function nextByCounts(report: CheckReport): string {
  const { answer, exceedCount, reviewCount, checkCount, withinCount, checks, statements, inputDoubts } = report;
  if (exceedCount > 0)
    return `Look at ${areAllNamed(report) ? 'what is named' : 'these first, then at the others beyond'}: each is marked in the figures and says its reason in the table. Observe again what you cannot explain.`;
  if (checkCount > withinCount + reviewCount)
    return 'State what the comparisons lack that cannot be judged: their reasons stand in the table.';
  if (reviewCount === 0 && inputDoubts.rejected > 0)
    return 'Observe again what the reduction rejected: nothing of it was compared. The page of the reduction has its reasons.';
  if (reviewCount > 0 || inputDoubts.review > 0)
    return 'Settle the points for review: their reasons stand in the table, and what mends each below it.';
  const failing = statements.filter(isFailing);
  const mends = [...new Set(failing.flatMap(({ mend }) => mend ?? []))]; // None is of a standard.
  if (mends.length > 0) return `${mends.join('. ')}.`;
  if (failing.length > 0) return 'Measure what the standard asks for in its line above.';
  if (answer !== 'within')
    return 'See the warnings and the statements below: something else than a difference is open.';
  if (hasBias(report))
    return 'Find the cause of the bias before the accuracy is stated: the standard assumes that it has been removed.';
  return checks.some(({ kind }) => kind === 'control')
    ? 'Nothing is open here. Keep this page with the points it is of.'
    : 'Compare with control that does not come from this base: repeats do not show what they share.';
}
