/**
 * Rows of a table in the order that they are to be looked at: the least need number first, of one need the largest size; those alike
 * in the order given.
 */
export function byNeed<Row>(
  rows: readonly Row[],
  needOf: (row: Row) => number,
  sizeOf: (row: Row) => number,
): readonly Row[] {
  return rows
    .map((row) => ({ row, need: needOf(row), size: sizeOf(row) }))
    .sort((a, b) => a.need - b.need || b.size - a.size)
    .map(({ row }) => row);
}
