import { createCsvWriter } from '../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../io/csv/csv-write.js';
import { createCellTexts, freeColumns } from '../../io/tables/columns/cells/cell-text.js';
import type { ReducedOccupation } from '../../tasks/reduce/reduction-working.js';
import { EPOCH_COLUMNS } from './epoch-columns.js';
import type { WrittenEpoch } from './epoch-columns.js';
import { entryAt } from '../../records/present.js';

/** Rows in one piece of text. */
const PIECE = 64;

/** Writes every epoch of each occupation with its verdict, reasons, weight and residual. */
export interface EpochsWriter {
  readonly begin: () => string;
  readonly occupation: (reduced: ReducedOccupation) => string;
}

/** `sources` are the names of the inputs. */
export function createEpochsWriter(sources: readonly string[], csv: CsvWriteOptions): EpochsWriter {
  const writer = createCsvWriter(
    EPOCH_COLUMNS.map(({ name }) => name),
    csv,
    freeColumns(EPOCH_COLUMNS),
  );
  const cellsOf = createCellTexts(EPOCH_COLUMNS);
  return {
    begin: writer.header,
    occupation({ point, working }) {
      let text = '';
      let rows: string[][] = [];
      let written: WrittenEpoch | null = null;
      for (const epoch of working.epochs) {
        written ??= { point, epoch, source: '' };
        written.epoch = epoch;
        // The name of an input that is not listed is not known.
        written.source = entryAt(sources, epoch.fix.place.sourceIndex);
        rows.push(cellsOf(written));
        if (rows.length < PIECE) continue;
        text += writer.rows(rows);
        rows = [];
      }
      return text + writer.rows(rows);
    },
  };
}
