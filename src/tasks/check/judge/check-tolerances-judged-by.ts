import type { CheckRow } from './check-tolerances-setup.js';
import { anyOf } from '../../reduce/record-search.js';

/** What one axis of a comparison was judged by; `nothing` where it was compared and neither a limit nor an uncertainty is known. */
export type JudgedBy = 'limit' | 'uncertainty' | 'nothing';

/** What judged the plan or the height of a row: a limit where one was set for that axis, else its stated uncertainty; null where it was not compared. */
export function judgedBy(
  row: Pick<CheckRow, 'firstM' | 'secondM' | 'upM' | 'limits' | 'horizontalStatistic' | 'verticalStatistic'>,
  axis: 'plan' | 'height',
): JudgedBy | null {
  const isUp = axis === 'height';
  for (const limit of row.limits) if ((limit.axis === 'up') === isUp) return 'limit';
  if (isUp ? row.upM === null : row.firstM === null || row.secondM === null) return null;
  return (isUp ? row.verticalStatistic : row.horizontalStatistic) === null ? 'nothing' : 'uncertainty';
}

/** True where any axis of any row was judged by a limit. */
export function anyLimit(rows: Iterable<CheckRow>): boolean {
  return anyOf(rows, ({ limits }) => limits.length > 0);
}
