import type { RejectedRow } from '../../io/tables/columns/row-loop.js';
import type { RawOf } from '../../io/tables/fixes/fixes-read.js';
import type { RecordList } from '../../records/record-list.js';
import type { Fix } from '../../records/points/fix.js';
import type { LateRefusal } from './reduction-flow.js';
import { derivedList } from '../../tasks/reduce/packing/packed-records.js';

/** Where rows go that were refused, as they stood in their file. */
export interface RefusedRows {
  readonly isAsked: boolean;
  readonly add: (rows: RecordList<RejectedRow>) => Promise<void>;
}

/** Rows refused by the reduction itself, found again in what was read of late. Returned: how many. */
export async function rejectLate(
  late: readonly LateRefusal[],
  recent: readonly RawOf[],
  rejects: RefusedRows,
): Promise<number> {
  let count = 0;
  for (const { fixes, problems } of late) {
    const rows = derivedList(fixes, (fix): RejectedRow => ({
      line: fix.place.line,
      raw: rawAmong(recent, fix),
      problems,
    }));
    count += rows.length;
    await rejects.add(rows);
  }
  return count;
}

function rawAmong(recent: readonly RawOf[], fix: Fix): string {
  for (const rawOf of recent) {
    const raw = rawOf(fix);
    if (raw !== '') return raw;
  }
  return '';
}
