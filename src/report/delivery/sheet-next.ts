import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { DeliveryReport } from '../../records/reports/delivery-report.js';
import type { Answer } from '../../records/runs/run-answer.js';
import { NO_MARKUP, markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';

const MOST_REASONS = 3;
const MOST_NAMED = 6;

/** What to do next where something is open: what mends the commonest reasons of all that is not within. */
export function nextLine(report: DeliveryReport, whole: Answer): readonly Markup[] {
  const { answer, reasons, checks } = report;
  const again = measuredAgain(report);
  if (checks.length === 0)
    return [
      markup`<b>Next.</b> ${again}Hold the coordinates against control that does not depend on the base before anything is set out or signed.`,
    ];
  if (whole === 'within')
    return [markup`<b>Next.</b> Verify the digests, sign, and keep this sheet with the points it is of.`];
  const open = [
    ...(answer === 'within' ? [] : [reasons]),
    ...checks.flatMap((check) => (check.answer === 'within' ? [] : [check.reasons])),
  ];
  const counts = new Map<string, number>();
  for (const [code, count] of open.flatMap((own) => [...own])) counts.set(code, (counts.get(code) ?? 0) + count); // The first of its code.
  const fixes = [...counts]
    .filter(([code]) => isProblemCode(code))
    .toSorted((a, b) => b[1] - a[1])
    .slice(0, MOST_REASONS)
    .flatMap(([code]) => (isProblemCode(code) ? [PROBLEM_CODES[code].fix] : []));
  const first = markup`${again}${firstWords(report)}`;
  return fixes.length === 0
    ? [markup`<b>Next,</b> before anyone signs. ${first}The reports in this folder say why of each, and what mends it.`]
    : [markup`<b>Next,</b> before anyone signs. ${first}What mends the commonest reasons: ${fixes.join('; ')}.`];
}

/** What is to be looked at, by name: what the checks found beyond, then points for review. */
function firstWords({ checks, answer, review }: DeliveryReport): Markup {
  const beyond = checks.flatMap((check) =>
    check.answer === 'within' ? [] : check.beyond.length > 0 ? check.beyond : check.largest,
  );
  const found = beyond.slice(0, MOST_NAMED).map(({ at, name, value }) => markup`${named(at)} (${name} ${value} m)`);
  const settle = answer === 'within' ? [] : review.slice(0, MOST_NAMED).map(named);
  return markup`${listed('Look first at', found, beyond.length)}${listed('Settle what is for review:', settle, answer === 'within' ? 0 : review.length)}`;
}

function listed(words: string, shown: readonly Markup[], all: number): Markup {
  if (shown.length === 0) return NO_MARKUP;
  const more = all > shown.length ? ` and ${String(all - shown.length)} more` : '';
  return markup`${words} ${shown.map((one, index) => (index === 0 ? one : markup`, ${one}`))}${more}. `;
}

/** Points without a coordinate are named before anything else. */
function measuredAgain({ rejected }: DeliveryReport): Markup {
  if (rejected.length === 0) return NO_MARKUP;
  const more = rejected.length > MOST_NAMED ? ` and ${String(rejected.length - MOST_NAMED)} more` : '';
  return markup`Measure again, since ${rejected.length === 1 ? 'it has' : 'they have'} no coordinate: ${rejected.slice(0, MOST_NAMED).map((id, index) => markup`${index === 0 ? '' : ', '}${named(id)}`)}${more}. `;
}

function isProblemCode(code: string): code is ProblemCode {
  return Object.hasOwn(PROBLEM_CODES, code);
}
