import type { ColumnMapping } from '../../records/settings/column-reading.js';
import type { Solution } from '../../records/session.js';
import type { CsvDialect } from '../../io/csv/csv-dialect.js';
import type { TextEncoding } from '../../io/text/text-encoding.js';

/** How a table is read. */
export interface TableReading {
  readonly dialect: CsvDialect;
  /** Null: by byte order mark, else UTF-8. */
  readonly encoding: TextEncoding | null;
  /** Our name to the file's header or position. */
  readonly mapping: ColumnMapping;
  /** Of rows of fixes that state none; null or absent: such rows are not accepted. */
  readonly solution?: Solution | null;
}
