import { parseUtc } from '../../core/numeric/text/parse-utc.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { EpochSpan } from '../reduce/totals/reduction-totals.js';

/** A calendar day begins this long before that of UTC where it begins first, and ends this long after where it ends last, milliseconds: zones of UTC+14 and UTC−12. */
const ZONES_MS = { before: 14 * 3_600_000, after: 12 * 3_600_000 } as const;
const DAY_MS = 24 * 3_600_000;

/** A day of a job: its date, `2026-05-11`, or null; first and last of its epochs, or null. */
export interface DatedDay {
  readonly id: string;
  readonly date: string | null;
  readonly span: EpochSpan | null;
}

/** day-date-differs for each day whose epochs all lie outside its date, whatever the zone of the date is: a file of another day stands under it, or the date is mistyped. */
export function datesThatDiffer(days: readonly DatedDay[]): readonly Problem[] {
  return days.flatMap(({ id, date, span }) => {
    if (date === null || span === null) return [];
    const beginsMs = parseUtc(`${date}T00:00Z`);
    // A date of the file is one of the calendar.
    if (typeof beginsMs !== 'number') return [];
    if (span.lastMs >= beginsMs - ZONES_MS.before && span.firstMs < beginsMs + DAY_MS + ZONES_MS.after) return [];
    return [
      errorProblem('day-date-differs', {
        message: `day ${id} has the date ${date}, and its epochs are from ${formatUtc(span.firstMs)} to ${formatUtc(span.lastMs)}`,
        received: date,
        where: { path: `day ${id}` },
        hint: 'put the date right, or name the files of that day: those of another stand there',
      }),
    ];
  });
}
