import { createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import { comparisonLine } from '../../../../tasks/check/check-line.js';
import type { CheckLine } from '../../../../tasks/check/check-line.js';
import type { CheckRow } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { WrittenRecord } from '../../../outputs/record-writer.js';

/** The lines of a check as records, each made as it is asked for: its cells, and where it was measured, or nowhere. */
export function* checkRecords(
  columns: readonly Column<never, CheckLine>[],
  lines: Iterable<CheckLine>,
): Generator<WrittenRecord> {
  const cellsOf = createCellTexts(columns);
  for (const line of lines)
    yield {
      cells: cellsOf(line),
      // Only a format that has geometries asks for it, and the point is placed for it.
      get geometry() {
        return geometryOf(line);
      },
    };
}

function geometryOf({ compared, pointClass }: CheckLine): WrittenRecord['geometry'] {
  const at = compared === null ? (pointClass?.row ?? null) : compared.row.measured;
  if (at?.latitudeDeg == null || at.longitudeDeg === null) return { kind: 'lines', lines: [] };
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = at;
  return { kind: 'point', place: { latitudeDeg, longitudeDeg }, ellipsoidalHeightM };
}

/**
 * A maker of residuals as lines from the known place, drawn `scale` times as long as they are; null where either place is
 * not known.
 */
export function createVectorRecord(
  columns: readonly Column<never, CheckLine>[],
  scale: number,
): (row: CheckRow) => WrittenRecord | null {
  const cellsOf = createCellTexts(columns);
  return (row) => {
    const from = row.known;
    const to = row.measured;
    if (from?.latitudeDeg == null || from.longitudeDeg === null) return null;
    if (to?.latitudeDeg == null || to.longitudeDeg === null) return null;
    const start = { latitudeDeg: from.latitudeDeg, longitudeDeg: from.longitudeDeg };
    const end = {
      latitudeDeg: Math.min(90, Math.max(-90, start.latitudeDeg + scale * (to.latitudeDeg - start.latitudeDeg))),
      longitudeDeg: Math.min(180, Math.max(-180, start.longitudeDeg + scale * (to.longitudeDeg - start.longitudeDeg))),
    };
    return { cells: cellsOf(comparisonLine(row)), geometry: { kind: 'lines', lines: [[start, end]] } };
  };
}
