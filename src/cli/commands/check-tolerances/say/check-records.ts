import { createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import { comparisonLine } from '../../../../tasks/check/check-line.js';
import type { CheckLine } from '../../../../tasks/check/check-line.js';
import type { CheckRow } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { WrittenRecord } from '../../../outputs/record-writer.js';

const NOWHERE: WrittenRecord['geometry'] = { kind: 'lines', lines: [] };

/**
 * The lines of a check as records, each made as it is asked for: its cells, and where it was measured, or nowhere. `isMap`: the format has
 * geometries, for which each point is placed.
 */
export function* checkRecords(
  columns: readonly Column<never, CheckLine>[],
  lines: Iterable<CheckLine>,
  isMap: boolean,
): Generator<WrittenRecord> {
  const cellsOf = createCellTexts(columns);
  for (const line of lines) yield { cells: cellsOf(line), geometry: isMap ? geometryOf(line) : NOWHERE };
}

function geometryOf({ compared, pointClass }: CheckLine): WrittenRecord['geometry'] {
  const at = compared === null ? (pointClass?.row ?? null) : compared.row.measured;
  if (at?.latitudeDeg == null || at.longitudeDeg === null) return NOWHERE;
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
