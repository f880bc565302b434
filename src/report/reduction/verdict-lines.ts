import type { ReductionReport } from '../../records/reports/reduction-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, kilometres, metres } from '../page/words/numbers.js';
import { surveyWhen } from '../page/words/survey-words.js';
import { answerWord } from '../page/words/answer-word.js';
import { baseNames } from '../page/words/base-names.js';

const MOST_BASES = 6;
const MOST_NAMED = 6;

/** The answer, the worst figures, and what was not done. */
export function verdictLines(report: ReductionReport): readonly Markup[] {
  const { verdicts, answer, epochsUsed, epochsRefused, worstCircle95, worstVertical95, farthest, tolerance } = report;
  const all = verdicts.accepted + verdicts.review + verdicts.rejected;
  const limits = [
    tolerance.horizontalM === null ? '' : `${metres(tolerance.horizontalM)} m in plan`,
    tolerance.verticalM === null ? '' : `${metres(tolerance.verticalM)} m in height`,
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${counted(all, 'point')}: ${String(verdicts.accepted)} accepted, ${String(verdicts.review)} for review, ${String(verdicts.rejected)} rejected. ${counted(epochsUsed, 'epoch')} used, ${String(epochsRefused)} refused.`,
    ...doubtLine(report),
    ...surveyLine(report),
    ...report.day.map((line) => markup`<b>The day.</b> ${line}.`),
    worstCircle95 === null || worstVertical95 === null
      ? markup`No point has a stated uncertainty.`
      : markup`<b>Worst at 95 %.</b> In plan ${metres(worstCircle95.valueM)} m (${named(worstCircle95.pointId)}), in height ${metres(worstVertical95.valueM)} m (${named(worstVertical95.pointId)})${limits.length === 0 ? '; no tolerance was set' : `; tolerance ${limits.join(', ')}`}.${farthest === null ? null : markup` Farthest baseline ${kilometres(farthest.valueM, 1)} km (${named(farthest.pointId)}).`}`,
    markup`<b>Not done.</b> ${notDone(report).join(' ')}`,
  ];
}

/** Points rejected and for review by name, once each, and where it stands what to do about them; of none, what to do next. */
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
  return [markup`${parts}<b>Next:</b> what mends each reason stands below the points.`];
}

/** When it was measured, from which bases, and by whom, as far as that is said. */
function surveyLine({ surveyed, bases: described, client, surveyor }: ReductionReport): readonly Markup[] {
  // A base from which no point was measured had no part in the survey.
  const used = described.filter(({ farthestM }) => farthestM !== null);
  const bases = used.length === 0 ? described : used;
  const names = baseNames(bases.map(({ id }) => id));
  const shown = names
    .slice(0, MOST_BASES)
    .map(
      ({ name, setUps }, index) =>
        markup`${index === 0 ? '' : ', '}${named(name)}${setUps === 1 ? '' : ` (${String(setUps)} set-ups)`}`,
    );
  const from =
    names.length === 0
      ? null
      : markup`, from ${names.length === 1 ? 'base' : 'bases'} ${shown}${names.length > MOST_BASES ? ` and ${String(names.length - MOST_BASES)} more` : ''}`;
  const people = [
    surveyor === null ? null : markup` Surveyor: ${named(surveyor)}.`,
    client === null ? null : markup` For ${named(client)}.`,
  ].filter((text) => text !== null);
  return [markup`<b>Surveyed.</b> ${surveyWhen(surveyed)}${from}.${people}`];
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
