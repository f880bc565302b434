import type { FixBlock, RejectedRow } from '../../io/fixes-read.js';
import type { Fix } from '../../records/fix.js';
import type { Problem } from '../../records/problem.js';
import type { Rejects } from '../rejects.js';

/** Fixes that could be read and not reduced. */
export interface LateRefusal {
  readonly fixes: readonly Fix[];
  readonly problems: readonly Problem[];
}

/** Rows refused by the reduction itself, found again in the blocks they came from. */
export async function rejectLate(late: readonly LateRefusal[], recent: readonly FixBlock[], rejects: Rejects): Promise<number> {
  let count = 0;
  for (const { fixes, problems } of late) {
    const rows: RejectedRow[] = fixes.map((fix) => ({
      line: fix.place.line,
      raw: recent.map((block) => block.rawOf(fix)).find((raw) => raw !== '') ?? '',
      problems,
    }));
    count += rows.length;
    await rejects.add(rows);
  }
  return count;
}
