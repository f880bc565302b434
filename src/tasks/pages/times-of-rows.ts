import { parseUtc } from '../../core/numeric/text/parse-utc.js';
import type { PlaceRow } from '../../records/points/place-row.js';
import { createSpan } from '../../core/observation/survey-span.js';
import type { SpanCollector } from '../../core/observation/survey-span.js';
import { entryAt } from '../../records/present.js';

/** First and last epoch of a row. */
interface RowTimes {
  readonly firstEpochMs: number | null;
  readonly lastEpochMs: number | null;
}

/** When the points of rows were measured, by columns that a reduction wrote and that pass through; null where a row does not say. */
function timesReader(names: readonly string[]): (row: PlaceRow) => RowTimes {
  const at = (name: string): number => names.findIndex((own) => own.toLowerCase() === name);
  const firstAt = at('first_epoch_utc');
  const lastAt = at('last_epoch_utc');
  const timeAt = ({ passThrough }: PlaceRow, index: number): number | null => {
    const ms = index < 0 ? null : parseUtc(entryAt(passThrough, index));
    return typeof ms === 'number' ? ms : null;
  };
  return (row) => ({ firstEpochMs: timeAt(row, firstAt), lastEpochMs: timeAt(row, lastAt) });
}

/** Gathers when the points of rows were measured. Given: the names of the columns that pass through. */
export function collectTimes(names: readonly string[]): {
  readonly add: (row: PlaceRow) => void;
  readonly result: SpanCollector['result'];
} {
  const timesOf = timesReader(names);
  const span = createSpan();
  return {
    add(row) {
      span.add(timesOf(row));
    },
    result: span.result,
  };
}
