/** How a delimited text file is written. Nothing of it is guessed. */
export interface CsvDialect {
  /** One character between fields. */
  readonly delimiter: string;
  /** A record that starts with this is a comment; null: there are none. */
  readonly comment: string | null;
  /** Physical lines to leave out before the header. */
  readonly skipLines: number;
  readonly hasHeader: boolean;
  /** Rows beneath the header that are no data, such as one of units; absent: none. */
  readonly rowsUnderHeader?: number;
  /** Numbers are written `12,5`. */
  readonly decimalComma: boolean;
}

/** RFC 4180 with a header row and decimal points. */
export const DEFAULT_DIALECT: CsvDialect = {
  delimiter: ',',
  comment: null,
  skipLines: 0,
  hasHeader: true,
  decimalComma: false,
};
