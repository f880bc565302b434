import type { CsvWriteOptions } from '../../io/csv/csv-write.js';
import { flagOption, textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';

/** How CSV is written, from the shared options. */
export function csvWriteOptions(invocation: Invocation): CsvWriteOptions {
  return {
    delimiter: ',',
    eol: textOption(invocation, 'eol') === 'crlf' ? '\r\n' : '\n',
    bom: flagOption(invocation, 'bom'),
    isSpreadsheetSafe: flagOption(invocation, 'spreadsheetSafe'),
  };
}
