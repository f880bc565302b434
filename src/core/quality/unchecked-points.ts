import type { PointRow } from '../../records/points/point-row.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** Points named in a message, before the rest is counted. */
const MOST_NAMED = 10;

/** Whether the adjustment that a point comes from found that nothing checks it, whatever is done with it since. */
export function isUnchecked({ reasons }: Pick<PointRow, 'reasons'>): boolean {
  return reasons.includes('network-unchecked') && reasons.split(';').some((own) => own.trim() === 'network-unchecked');
}

/** What is said of such points where they are used. Given: their names. Returned: nothing of none, else one warning. */
export function uncheckedWarnings(ids: readonly string[]): readonly Problem[] {
  if (ids.length === 0) return [];
  const names = ids.slice(0, MOST_NAMED).join(', ');
  const more = ids.length > MOST_NAMED ? ` and ${String(ids.length - MOST_NAMED)} more` : '';
  return [
    warningProblem('network-unchecked', {
      message: `nothing checked ${ids.length === 1 ? 'one point' : `${String(ids.length)} points`} in the adjustment that gave ${ids.length === 1 ? 'it' : 'them'}: ${names}${more}`,
      hint: 'a blunder there goes unseen into whatever is made of it: observe it once more, from another base or on another day',
    }),
  ];
}
