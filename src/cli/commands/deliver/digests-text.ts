import type { StandingFile } from '../../../tasks/job/ledger/judge-files.js';
import type { CsvWriteOptions } from '../../../io/csv/csv-write.js';
import { createCsvWriter } from '../../../io/csv/csv-write.js';

/** Every file that the delivery rests on, delivered or not: what the runs read and wrote. */
export function digestsText(standing: readonly StandingFile[], csv: CsvWriteOptions): string {
  const writer = createCsvWriter(['file', 'use', 'command', 'ledger_line', 'bytes', 'sha256'], csv);
  return (
    writer.header() +
    writer.rows(
      standing.map(({ name, use, line, bytes, sha256 }) => [
        name,
        use,
        line.command,
        String(line.sequence),
        String(bytes),
        sha256,
      ]),
    )
  );
}
