import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import type { CheckAxes } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { RegisterRow } from '../../../../records/reports/register-report.js';
import type { WrittenRecord } from '../../../outputs/record-writer.js';
import { registerAxisName, registerColumns } from '../register/register-columns.js';

/** The rows of a register as records: their cells, and where the mark or base is. */
export function registerRecords(rows: readonly RegisterRow[], axes: CheckAxes): readonly WrittenRecord[] {
  const cellsOf = createCellTexts(registerColumns(axes));
  return rows.map((row) => ({
    cells: cellsOf(row),
    geometry:
      row.place === null ? { kind: 'lines', lines: [] } : { kind: 'point', place: row.place, ellipsoidalHeightM: null },
  }));
}

/** Every value of every chart, for JSON: one item a mark or base, axis and set-up. Metres 4 decimals, sigmas 3. */
export function registerValues(
  rows: readonly RegisterRow[],
  axes: CheckAxes,
): readonly Readonly<Record<string, unknown>>[] {
  return rows.flatMap(({ what, id, axis, values }) =>
    values.map(({ day, setUp, residualM, z, upper, lower }) => ({
      what,
      point_id: id,
      axis: registerAxisName(axis, axes),
      day,
      set_up: setUp,
      residual_m: rounded(residualM, 4),
      deviation: z === null ? null : rounded(z, 3),
      upper_sum: rounded(upper, 3),
      lower_sum: rounded(lower, 3),
    })),
  );
}

function rounded(value: number, decimals: number): number | null {
  return parseDecimal(formatFixed(value, decimals));
}
