import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { DeliveryReport } from '../../records/reports/delivery-report.js';
import type { Answer } from '../../records/runs/run-answer.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';

const MOST_REASONS = 3;

/** What to do next where something is open: what mends the commonest reasons of all that is not within. */
export function nextLine({ answer, reasons, checks }: DeliveryReport, whole: Answer): readonly Markup[] {
  if (checks.length === 0)
    return [
      markup`<b>Next.</b> Hold the coordinates against control that does not depend on the base before anything is set out or signed.`,
    ];
  if (whole === 'within') return [];
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
    .flatMap(([code, count]) =>
      isProblemCode(code) ? [`${PROBLEM_CODES[code].fix} (${code}, ${String(count)})`] : [],
    );
  return fixes.length === 0
    ? [markup`<b>Next.</b> See the reports in this folder: what is open stands in each of them.`]
    : [markup`<b>Next,</b> before anyone signs: ${fixes.join('; ')}.`];
}

function isProblemCode(code: string): code is ProblemCode {
  return Object.hasOwn(PROBLEM_CODES, code);
}
