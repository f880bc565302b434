import type { OutputFormat } from '../../../../files/points/points-writer.js';
import { writtenNames } from '../../../../files/points/written-names.js';
import { carriedNames, renamedColumnNotes } from '../../../../io/tables/columns/carried-names.js';
import { cellColumns, createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import type { AngleForm, CellColumn, WrittenColumn } from '../../../../io/tables/columns/cells/cell-text.js';
import type { PlaceInput } from '../../../../io/tables/points/place-input.js';
import type { PlaceRow } from '../../../../records/points/place-row.js';
import type { Problem } from '../../../../records/problem.js';
import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import { emptyPointOnTheWay } from '../../../../tasks/transform/point-on-the-way.js';
import type { PointOnTheWay } from '../../../../tasks/transform/point-on-the-way.js';
import { formWritten } from '../../../../tasks/transform/transform-plan.js';
import { heightsWritten } from '../../../../tasks/transform/written-heights.js';
import { arrivedColumns } from '../transform-columns.js';
import type { ArrivedPlace } from '../transform-columns.js';

/** Columns of the output, and the cells of one point. */
export interface TransformTable {
  readonly columns: readonly CellColumn[];
  /** Says which columns of the input were renamed. */
  readonly notes: readonly Problem[];
  readonly cells: (row: PlaceRow, point: PointOnTheWay) => readonly string[];
  /** The columns before those of the input, and what they are written of: one record, which holds until the next call. */
  readonly own: readonly WrittenColumn<ArrivedPlace>[];
  readonly arrive: (row: PlaceRow, point: PointOnTheWay) => ArrivedPlace;
}

/**
 * The table of the output: identifier, position, heights that can be known, figures of a site, then the other columns
 * of the input. Latitude and longitude stand in the geometry of GeoJSON and not in its properties.
 */
export function transformTable(
  planned: PlannedTransform,
  input: PlaceInput,
  format: OutputFormat,
  angles: AngleForm,
): TransformTable {
  const { plan, end } = planned;
  const form = formWritten(plan);
  const own = arrivedColumns({
    position: form === 'place' && format === 'geojson' ? null : form,
    // A target that is no plane has no pair.
    pair: (end?.at === 'out' ? end.columns : null) ?? plan.to.grid?.axes.map(({ columnName }) => columnName) ?? [],
    heights: heightsWritten(planned, { orthometric: input.hasOrthometric, ellipsoidal: input.hasEllipsoidal }),
    hasGeoid: planned.heights.geoid !== null,
    hasSite: end?.kind === 'site',
  });
  const carried = carriedNames(writtenNames(format, own), input.passThroughNames);
  const cellsOf = createCellTexts(own, angles);
  const arrived: ArrivedPlace = { row: { pointId: '' }, point: emptyPointOnTheWay() };
  const arrive: TransformTable['arrive'] = (row, point) => {
    arrived.row = row;
    arrived.point = point;
    return arrived;
  };
  return {
    own,
    arrive,
    columns: [...cellColumns(own, angles), ...carried.names.map((name): CellColumn => ({ name, kind: 'text' }))],
    notes: renamedColumnNotes(carried),
    cells(row, point) {
      const cells = cellsOf(arrive(row, point));
      for (const cell of row.passThrough) cells.push(cell);
      return cells;
    },
  };
}
