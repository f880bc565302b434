import type { ReductionReport } from '../../records/reports/reduction-report.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, kilometres, limitMetres, metresBeside } from '../page/words/numbers.js';
import { dayWords } from '../page/words/day-words.js';
import { surveyLines } from '../page/words/survey-words.js';
import { answerWord } from '../page/words/answer-word.js';

const MOST_NAMED = 6;
/** Reasons that the first screen says. */
const MOST_REASONS = 3;
/** Where some points are rejected and others for review. */
const MOST_OF_EACH = 2;

/** The answer, the worst figures, and what was not done. */
export function verdictLines(report: ReductionReport): readonly Markup[] {
  const { verdicts, answer, epochsUsed, epochsRefused, worstCircle95, worstVertical95, farthest, tolerance } = report;
  const all = verdicts.accepted + verdicts.review + verdicts.rejected;
  const limits = [
    tolerance.horizontalM === null ? '' : `${limitMetres(tolerance.horizontalM)} m in plan`,
    tolerance.verticalM === null ? '' : `${limitMetres(tolerance.verticalM)} m in height`,
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${howMany(report, all)}: ${String(verdicts.accepted)} accepted, ${String(verdicts.review)} for review, ${String(verdicts.rejected)} rejected. ${counted(epochsUsed, 'epoch')} used, ${String(epochsRefused)} refused.`,
    ...doubtLine(report),
    ...surveyLine(report),
    ...report.day.map((line) => markup`<b>The day.</b> ${dayWords(line)}.`),
    worstCircle95 === null || worstVertical95 === null
      ? markup`No point has a stated uncertainty.`
      : markup`<b>Worst at 95 %.</b> In plan ${metresBeside(worstCircle95.valueM, tolerance.horizontalM)} m (${named(worstCircle95.pointId)}), in height ${metresBeside(worstVertical95.valueM, tolerance.verticalM)} m (${named(worstVertical95.pointId)})${limits.length === 0 ? '; no tolerance was set' : `; tolerance ${limits.join(', ')}`}.${farthest === null ? null : markup` Farthest baseline ${kilometres(farthest.valueM, 1)} km (${named(farthest.pointId)}).`}`,
    markup`<b>Not done.</b> ${notDone(report).join(' ')}`,
  ];
}

/** How many points, and in how many occupations where some were occupied again. */
function howMany({ points, pointsLeftOut }: ReductionReport, rows: number): string {
  const names = new Set(points.map(({ pointId }) => pointId)).size;
  if (names === points.length) return counted(rows, 'point');
  return pointsLeftOut > 0
    ? counted(rows, 'occupation')
    : `${counted(names, 'point')} in ${counted(rows, 'occupation')}`;
}

/** Points rejected and for review by name, once each, why, and what to do about it; of none, what to do next. */
function doubtLine({ points, verdicts }: ReductionReport): readonly Markup[] {
  const inDoubt = (['rejected', 'review'] as const).filter((verdict) => verdicts[verdict] > 0);
  if (inDoubt.length === 0)
    return [
      markup`<b>Next.</b> Hold known points against their control, and points occupied twice against each other (check-tolerances).`,
    ];
  const parts = inDoubt.map((verdict) => {
    const names = [...new Set(points.flatMap((point) => (point.verdict === verdict ? [point.pointId] : [])))];
    const listed = names.slice(0, MOST_NAMED).map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`);
    const more = names.length > MOST_NAMED ? ` and ${String(names.length - MOST_NAMED)} more` : '';
    return markup`<b>${verdict === 'rejected' ? 'Rejected:' : 'For review:'}</b> ${listed}${more}. `;
  });
  return [markup`${parts}`, ...whyLines(points)];
}

/** The commonest reasons of what is rejected, then of what is for review, and what mends them. */
function whyLines(points: ReductionReport['points']): readonly Markup[] {
  const groups = (['rejected', 'review'] as const)
    .map((verdict) => ({ verdict, counts: reasonsOf(points.filter((point) => point.verdict === verdict)) }))
    .filter(({ counts }) => counts.length > 0);
  if (groups.length === 0) return [markup`<b>Next.</b> See the warnings: no point states its reason.`];
  const shown = groups.map(({ verdict, counts }) => ({
    verdict,
    counts: counts.slice(0, groups.length === 1 ? MOST_REASONS : MOST_OF_EACH),
  }));
  const rejected = points.filter(({ verdict }) => verdict === 'rejected');
  const why = shown.map(({ verdict, counts }) => {
    if (verdict === 'rejected' && rejected.length <= MOST_NAMED) return oneByOne(rejected);
    const said = counts.map(([code, count]) => `${PROBLEM_CODES[code].meaning} (${String(count)})`).join('; ');
    return shown.length === 1
      ? markup`${capitalised(said)}.`
      : markup`${verdict === 'rejected' ? 'Rejected' : 'For review'}: ${said}.`;
  });
  const said = new Set(shown.flatMap(({ counts }) => counts.map(([code]) => code)));
  const mends = [...new Set([...said].map((code) => PROBLEM_CODES[code].fix))];
  // `reobserve` is said by `reobserve for longer`.
  const fixes = mends.filter((one) => !mends.some((other) => other !== one && other.startsWith(one))).join('; ');
  const others = new Set(groups.flatMap(({ counts }) => counts.map(([code]) => code))).size - said.size;
  const more = others > 0 ? ` ${counted(others, 'other reason')} below the points.` : '';
  return [
    markup`<b>Why.</b> ${why.map((text, index) => (index === 0 ? text : markup` ${text}`))}${more}`,
    markup`<b>Next.</b> ${capitalised(fixes)}.`,
  ];
}

/** Why each of a few points is rejected: of one without an accepted epoch, why its epochs were refused. */
function oneByOne(rejected: ReductionReport['points']): Markup {
  const parts = rejected.map(({ pointId, reasons }) => {
    const refused = reasons.includes('point-no-accepted-epoch')
      ? reasons.find((code) => code.startsWith('epoch-'))
      : undefined;
    const [first] = reasons;
    const meaning =
      refused === undefined
        ? first === undefined
          ? 'no reason is stated'
          : PROBLEM_CODES[first].meaning
        : `no epoch was accepted, as ${PROBLEM_CODES[refused].meaning}`;
    return markup`${named(pointId)}: ${meaning}`;
  });
  return markup`${parts.map((part, index) => (index === 0 ? part : markup`; ${part}`))}.`;
}

/** Reasons that are a figure a little over its limit, beside which others say what is wrong. */
const FIGURES: ReadonlySet<ProblemCode> = new Set(['point-horizontal-95', 'point-vertical-95']);

/** The reasons of points and of how many points each is, however often these were occupied: what is wrong before a figure over its limit, then the commonest first. */
function reasonsOf(points: ReductionReport['points']): readonly (readonly [ProblemCode, number])[] {
  const names = new Map<ProblemCode, Set<string>>();
  for (const { pointId, reasons } of points)
    for (const code of reasons) names.set(code, (names.get(code) ?? new Set()).add(pointId)); // The first of its kind.
  const counts = [...names].map(([code, { size }]) => [code, size] as const);
  const rank = (code: ProblemCode): number => (FIGURES.has(code) ? 1 : 0);
  return counts.toSorted((a, b) => rank(a[0]) - rank(b[0]) || b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
}

function capitalised(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** When it was measured, from which bases, by whom and with what, as far as that is said. */
function surveyLine({ surveyed, crew, bases: described }: ReductionReport): readonly Markup[] {
  // A base from which no point was measured had no part in the survey.
  const used = described.filter(({ farthestM }) => farthestM !== null);
  const bases = (used.length === 0 ? described : used).map(({ id }) => id);
  return surveyed === null && bases.length === 0
    ? [markup`<b>Surveyed.</b> The epochs state no time.`, ...surveyLines({ surveyed, crew })]
    : surveyLines({ surveyed, crew }, bases);
}

function notDone(report: ReductionReport): readonly string[] {
  const { geoid, bases, repeats, rowsSkipped, frame } = report;
  const said = ['Nothing was held against control that does not depend on the base.'];
  if (report.pointsRepeated === null) said.push('Repeat occupations were not compared.');
  else if (repeats === null && report.pointsRepeated > 0)
    said.push(
      `${report.pointsRepeated === 1 ? '1 point was' : `${String(report.pointsRepeated)} points were`} occupied more than once: ${report.pointsInDispute === 0 ? 'all agree' : report.pointsInDispute === 1 ? '1 disagrees' : `${String(report.pointsInDispute)} disagree`}.`,
    );
  if (geoid === null) said.push('No orthometric heights: no geoid was set.');
  else if (geoid.sigmaM === null) said.push('The geoid states no sigma, so heights leave it out of their 95 %.');
  const asBroadcast = bases.filter((base) => base.correction === null).map((base) => base.id);
  if (bases.length === 0) said.push('No base was described, so nothing that grows with distance is counted.');
  else if (asBroadcast.length > 0)
    said.push(`Taken as broadcast, with no known coordinate: base ${asBroadcast.join(', ')}.`);
  if (rowsSkipped > 0) said.push(`${counted(rowsSkipped, 'row')} with errors were left out on request.`);
  if (frame.shift === null) said.push('No change of datum: coordinates stay in the frame of the fixes.');
  return said;
}
