/** A column that rows are sorted by. */
export interface SortKey {
  readonly name: string;
  readonly isDescending: boolean;
}

/** How a table is to be shown otherwise than it is made. */
export interface AskedView {
  /** Columns in the order asked for; empty: all as they stand. */
  readonly select: readonly string[];
  /** Decimals by column: not more than the table is made with. */
  readonly decimals: ReadonlyMap<string, number>;
  readonly sort: readonly SortKey[];
  /** Coordinates to a tenth of their uncertainty. */
  readonly isForPeople: boolean;
}
