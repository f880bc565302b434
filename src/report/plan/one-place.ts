import type { PlanReport, PlanReportTarget } from '../../records/reports/plan-report.js';
import { answerWord } from '../page/words/answer-word.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, kilometres, millimetres, utcTime } from '../page/words/numbers.js';

/** A page of one place: it, and the report as far as it is of that place. */
export interface OnePlace {
  readonly place: PlanReportTarget;
  readonly own: PlanReport;
}

/** The place that --explain names; null on the page of a whole plan. */
export function onePlace(report: PlanReport): OnePlace | null {
  const place = report.targets.find(({ id }) => id === report.onlyPoint);
  if (place === undefined) return null;
  const bases = report.bases.filter(({ id }) => id === place.baseId);
  const own = { ...report, targets: [place], targetCount: 1, bases, ranking: null, stream: null };
  if (report.visits === null) return { place, own };
  const visits = report.visits.filter(({ pointId }) => pointId === place.id);
  const leftOut = report.leftOut.filter(({ pointId }) => pointId === place.id);
  return { place, own: { ...own, visits, visitCount: visits.length, leftOut } };
}

/** The first screen of the page of one place: what is predicted of it and what is asked for, what would help, when it is visited, and the plan as a whole. */
export function onePlaceVerdict(report: PlanReport, { place, own }: OnePlace): readonly Markup[] {
  const { id, baseId, baselineM, isWithin, wayOut, isHopeless } = place;
  return [
    markup`<b>${isWithin ? 'Within.' : 'Outside.'}</b> ${named(id)}, ${kilometres(baselineM, 1)} km from ${baseId === 'base' ? 'the base' : markup`base ${named(baseId)}`}, in ${report.conditions} conditions: ${axisWords('in plan', place.circle95M, place.toleranceHorizontalM)}; ${axisWords('in height', place.vertical95M, place.toleranceVerticalM)}.`,
    ...(isWithin || wayOut === ''
      ? []
      : [markup`<b>${isHopeless ? 'Nothing helps:' : 'What would help:'}</b> ${wayOut}.`]),
    ...visitLine(own),
    markup`<b>Next.</b> ${nextWords(place)}`,
    markup`<b>The plan.</b> ${answerWord(report.answer)} ${counted(report.targetCount, 'place')}, ${String(report.outsideCount)} outside their tolerances.`,
    markup`<b>Not done.</b> The sky over it was not looked at. How the other places do is on the page of the whole plan.`,
  ];
}

function axisWords(axis: string, valueM: number, toleranceM: number | null): string {
  return `${axis} ${millimetres(valueM)} mm (95 %)${toleranceM === null ? ', no tolerance' : `, tolerance ${fixed(1000 * toleranceM, toleranceM < 0.01 ? 1 : 0)} mm`}`;
}

/** When it is occupied, where a timetable was asked for. */
function visitLine({ visits, leftOut }: PlanReport): readonly Markup[] {
  if (visits === null) return [];
  const when = visits.map(({ startS, endS }) => `${clock(startS)} to ${clock(endS)}`).join(', ');
  return [
    markup`<b>In the timetable</b> ${when === '' ? 'it has no visit' : when}${leftOut.length === 0 ? '' : `; no time for ${counted(leftOut.length, 'occupation')}`}.`,
  ];
}

/** The time of day of a second of a timetable. */
function clock(seconds: number): string {
  return utcTime(seconds * 1000).slice(0, 5);
}

function nextWords({ isWithin, isHopeless }: PlanReportTarget): string {
  if (isWithin) return 'See the sky over it before driving out.';
  return isHopeless
    ? 'Agree on a wider tolerance, or measure it from near control with level and total station.'
    : 'Change what would help, or set the base nearer to it, and plan again before driving out.';
}
