import { dayUnchanged } from '../../../../tasks/repeats/day-of-repeats.js';
import type { MadeCheck } from '../finish-checks.js';
import { checkLines } from './check-lines.js';
import { fixLines } from './fix-lines.js';

/** Why --variance-factor estimated changed nothing; nothing where it did, or was not asked for. */
export function dayNotCounted({ inputs, asked, checks, session }: MadeCheck): readonly string[] {
  if (inputs === null || !asked.isDayCounted) return [];
  const unchanged = dayUnchanged(checks.day.day, session.precision, 'check');
  return unchanged === null ? [] : [unchanged];
}

/** What is said of a check, in its order: limits, fixes, points, statements; `skipped`: rows with errors that were left out. */
export function saidOfCheck(made: MadeCheck, skipped: number): readonly string[] {
  const { lines, fixes, inputs, checks, setup } = made;
  return [
    ...lines,
    ...(fixes === null ? [] : fixLines(fixes)),
    ...(inputs === null ? [] : checkLines(inputs, checks, setup.axes)),
    ...checks.statements.map(({ what, text }) => `${what}: ${text}`),
    ...(skipped > 0 ? [`${String(skipped)} rows with errors were left out on request`] : []),
    ...dayNotCounted(made),
  ];
}
