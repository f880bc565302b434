import type { ReductionReport } from '../../records/reports/reduction-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, kilometres, metres } from '../page/numbers.js';
import { answerWord } from '../page/answer-word.js';

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
    ...report.day.map((line) => markup`<b>The day.</b> ${line}.`),
    worstCircle95 === null || worstVertical95 === null
      ? markup`No point has a stated uncertainty.`
      : markup`<b>Worst at 95 %.</b> In plan ${metres(worstCircle95.valueM)} m (${named(worstCircle95.pointId)}), in height ${metres(worstVertical95.valueM)} m (${named(worstVertical95.pointId)})${limits.length === 0 ? '; no tolerance was set' : `; tolerance ${limits.join(', ')}`}.${farthest === null ? null : markup` Farthest baseline ${kilometres(farthest.valueM, 1)} km (${named(farthest.pointId)}).`}`,
    markup`<b>Not done.</b> ${notDone(report).join(' ')}`,
  ];
}

function notDone(report: ReductionReport): readonly string[] {
  const { geoid, bases, repeats, rowsSkipped, frame } = report;
  const said = ['Nothing was held against control that does not depend on the base.'];
  if (report.pointsRepeated === null) said.push('Repeat occupations were not compared.');
  else if (repeats === null && report.pointsRepeated > 0)
    said.push(
      `${String(report.pointsRepeated)} points were occupied more than once: ${report.pointsInDispute === 0 ? 'all agree' : `${String(report.pointsInDispute)} disagree`}.`,
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
