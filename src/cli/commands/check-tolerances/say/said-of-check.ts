import { dayUnchanged } from '../../../../tasks/repeats/day-of-repeats.js';
import type { MadeCheck } from '../finish-checks.js';
import { checkLines } from './check-lines.js';
import { fixLines } from './fix-lines.js';

/** What is said of a check, in its order: limits, fixes, points, statements; `skipped`: rows with errors that were left out. */
export function saidOfCheck(made: MadeCheck, skipped: number): readonly string[] {
  const { lines, fixes, inputs, checks, asked, setup, session } = made;
  const unchanged =
    inputs !== null && asked.isDayCounted ? dayUnchanged(checks.day.day, session.precision, 'check') : null;
  return [
    ...lines,
    ...(fixes === null ? [] : fixLines(fixes)),
    ...(inputs === null ? [] : checkLines(inputs, checks, setup.axes)),
    ...checks.statements.map(({ what, text }) => `${what}: ${text}`),
    ...(skipped > 0 ? [`${String(skipped)} rows with errors were left out on request`] : []),
    ...(unchanged === null ? [] : [unchanged]),
  ];
}
