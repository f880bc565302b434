import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import { createCsvWriter } from '../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../io/csv/csv-write.js';
import type { ReducedOccupation } from '../../tasks/reduce/reduction-working.js';

/** Columns of the file of epochs. */
export const EPOCH_COLUMNS: readonly string[] = [
  'point_id',
  'occupation',
  'epoch_utc',
  'base_id',
  'source',
  'line',
  'solution',
  'correction_age_s',
  'satellites_used',
  'pdop',
  'verdict',
  'reasons',
  'weight',
  'residual_east_m',
  'residual_north_m',
  'residual_up_m',
];

const TEXT = [0, 3, 4, 11];
/** Rows in one piece of text. */
const PIECE = 1000;

/** Writes every epoch of each occupation with its verdict, reasons, weight and residual. */
export interface EpochsWriter {
  readonly begin: () => string;
  readonly occupation: (reduced: ReducedOccupation) => string;
}

/** `sources` are the names of the inputs. */
export function createEpochsWriter(sources: readonly string[], csv: CsvWriteOptions): EpochsWriter {
  const writer = createCsvWriter(EPOCH_COLUMNS, csv, TEXT);
  const number = (value: number | null, decimals: number): string =>
    value === null ? '' : formatFixed(value, decimals);
  return {
    begin: writer.header,
    occupation({ point, working }) {
      let text = '';
      let rows: string[][] = [];
      const write = (): void => {
        text += writer.rows(rows);
        rows = [];
      };
      for (const { fix, refusals, weight, residual } of working.epochs) {
        rows.push([
          fix.pointId,
          point.occupation,
          fix.epochMs === null ? '' : formatUtc(fix.epochMs),
          point.baseId ?? '',
          sources[fix.place.sourceIndex] ?? '',
          String(fix.place.line),
          fix.solution ?? '',
          number(fix.correctionAgeS, 1),
          fix.satellitesUsed === null ? '' : String(fix.satellitesUsed),
          number(fix.pdop, 2),
          refusals.length === 0 ? 'accepted' : 'refused',
          refusals.join(';'),
          formatFixed(weight, 3),
          number(residual?.eastM ?? null, 4),
          number(residual?.northM ?? null, 4),
          number(residual?.upM ?? null, 4),
        ]);
        if (rows.length === PIECE) write();
      }
      write();
      return text;
    },
  };
}
