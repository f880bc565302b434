import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import type { Fix } from '../../../records/points/fix.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import { pieceSize } from '../../host/way.js';
import { mapColumns } from '../columns/column-map.js';
import type { ColumnMap, TableHeader } from '../columns/column-map.js';
import { createRowLoop, rawOfLine } from '../columns/row-loop.js';
import type { RejectedRow, TableHead } from '../columns/row-loop.js';
import { axesProblem, gridColumnsIn } from '../points/point-row-columns.js';
import type { AxisNames } from '../points/point-row-columns.js';
import { fixTable } from './fix-table.js';
import { createFixRow, passingColumns } from './fix-row.js';
import type { FixRowOptions } from './fix-row.js';

/** Fixes that follow each other in one input, and what could not be read among them. */
export interface FixBlock {
  readonly fixes: readonly Fix[];
  readonly rejected: readonly RejectedRow[];
  /** Warnings and notes that cost no row. */
  readonly warnings: readonly Problem[];
  /** The same function for all pieces of one run of rows. */
  readonly rawOf: RawOf;
}

/** The row of a fix as it stands in the file, for a fix refused later; empty where it is not among the rows this knows of. */
export type RawOf = (fix: Fix) => string;

export interface FixReadOptions extends FixRowOptions {
  /** Our column name to the file's header or position. */
  readonly mapping: ColumnMapping;
}

/** Reads the fixes of blocks of rows. */
export interface FixBlockReader {
  readonly passThroughNames: readonly string[];
  /** Position of the column of point names, from 0. */
  readonly idIndex: number;
  /** Whether the table has a column, by our name. */
  readonly has: (column: string) => boolean;
  /** In pieces of good rows and pieces of bad rows, in the order of the file. */
  readonly fixesOf: (block: CsvBlock) => Generator<FixBlock>;
}

/** Fixes are handed on so many at a time, so that few are alive when memory is cleared of dead ones. */
const MOST_FIXES = pieceSize(16, 3);

/**
 * A reader of the fixes in the rows of a table. Rows in the plain form are read from their bytes, any other by the
 * general reader; a property test holds the two together.
 * Problems: those of `mapColumns`; with each rejected row, those of its cells.
 */
export function createFixBlockReader(head: TableHead, options: FixReadOptions): Outcome<FixBlockReader> {
  const { source, header, headerLine, dialect } = head;
  const table = { source, header, headerLine, hasHeader: dialect.hasHeader };
  const { mapping, grid = null } = options;
  const axes: AxisNames | null = grid === null ? null : [grid.axes[0].columnName, grid.axes[1].columnName];
  const { spec } = fixTable(table, mapping, axes);
  const mapped = mapColumns(table, spec, mapping);
  if (!mapped.ok) {
    const mismatch = gridMismatch(table, mapping, axes, grid);
    return mismatch === null ? mapped : failure(mismatch);
  }
  const twice = sigmasTwice(mapped.value);
  if (twice !== null) return failure(twice);
  const map = mapped.value;
  const piecesOf = createRowLoop<Fix>(head, {
    map,
    most: MOST_FIXES,
    isOrderKept: true,
    reader: (cells) => createFixRow(map, cells, options),
  });

  function* fixesOf(block: CsvBlock): Generator<FixBlock> {
    const rawOf: RawOf = ({ place }) => (place.sourceIndex === options.sourceIndex ? rawOfLine(block, place.line) : '');
    for (const { rows, rejected, warnings } of piecesOf(block)) yield { fixes: rows, rejected, warnings, rawOf };
  }

  return success(
    {
      passThroughNames: passingColumns(map).map((column) => column.name),
      idIndex: map.index('point_id'),
      has: (column) => map.index(column) >= 0,
      fixesOf,
    },
    mapped.problems,
  );
}

/** Where a table has no position but grid columns: why those are not read. */
function gridMismatch(
  table: TableHeader,
  mapping: ColumnMapping,
  axes: AxisNames | null,
  grid: GridSystem | null,
): Problem | null {
  const names = [...gridColumnsIn(table.hasHeader ? table.header : []), ...gridColumnsIn(Object.keys(mapping))];
  const isGeographic = ['latitude_deg', 'longitude_deg', 'x_m'].some(
    (name) => Object.hasOwn(mapping, name) || table.header.some((header) => header.toLowerCase() === name),
  );
  if (names.length === 0 || isGeographic) return null;
  if (axes !== null && grid !== null) return axesProblem({ ...table, header: names }, axes, {});
  return errorProblem('config-missing', {
    message: 'the fixes are grid coordinates, and nothing says in which system',
    where: { source: table.source, line: table.headerLine },
    hint: 'name it in the session: [system] fixes = "EPSG:n" of the projected system they are in',
  });
}

/** usage-conflict where one figure for both axes and one of an axis are both there. */
function sigmasTwice(map: ColumnMap): Problem | null {
  const axis = ['sigma_east_m', 'sigma_north_m'].find((name) => map.index(name) >= 0);
  return map.index('sigma_horizontal_m') < 0 || axis === undefined
    ? null
    : errorProblem('usage-conflict', {
        message: `sigma_horizontal_m and ${axis} both say how sure the position is`,
        hint: 'map one of them',
      });
}
