import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { mapColumns } from '../columns/column-map.js';
import type { ColumnMap, PassThroughColumn, TableHeader } from '../columns/column-map.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { createRowLoop, rawOfLine } from '../columns/row-loop.js';
import type { RejectedRow } from '../columns/row-loop.js';
import { KNOWN_POINT_COLUMNS } from './point-columns.js';
import { axesInHeader, axesProblem, pointTable, unitProblem } from './point-row-columns.js';
import type { AxisNames } from './point-row-columns.js';
import { createPointRow } from './point-row-read.js';
import type { PointNeeds } from './point-row-read.js';

export interface PointReadOptions {
  /** Index of the file in the run's list of inputs. */
  readonly sourceIndex: number;
  /** Our column name to the file's header or position. */
  readonly mapping: ColumnMapping;
  /** Column names of the system's axes; null: no system is stated and the header's own pair counts. */
  readonly axes: AxisNames | null;
  readonly needs: PointNeeds;
  /** Also pass through the known columns that a `PointRow` does not hold, such as point_scale_factor. */
  readonly keepComputed?: boolean;
  /** Turns the place of a problem into the document's own, for GeoJSON. */
  readonly place?: (problem: Problem) => Problem;
}

/** Points handed on together: few, so that none outlives the nursery. */
const TOGETHER = 128;

/** Points that follow each other in one input, and what could not be read among them. */
export interface PointBlock {
  readonly points: readonly PointRow[];
  readonly rejected: readonly RejectedRow[];
  /** Warnings that cost no row. */
  readonly warnings: readonly Problem[];
  /** The row of one of these points as it stands in the file; for a point refused later. */
  readonly rawOf: (point: PointRow) => string;
}

/** The points of one input. */
export interface PointInput {
  /** Names of the grid pair that `gridFirst` and `gridSecond` are in; null: the file has no grid coordinates. */
  readonly axes: AxisNames | null;
  /** True when the file has the column. */
  readonly has: (column: string) => boolean;
  /** Names of the columns that pass through, in the order of `PointRow.passThrough`. */
  readonly passThroughNames: readonly string[];
  /** The header as it stands in the file, for the file of rejected rows; null where there is none. */
  readonly headerRaw: string | null;
  /** A failure is the last item. May be read once. */
  readonly blocks: () => AsyncGenerator<Outcome<PointBlock>>;
}

/**
 * Reads points, control or design from a table (the columns are in docs/file-formats.md). Grid columns must carry the
 * names of the system's axes and unit.
 * Problems: those of `mapColumns` (a bare height is height-kind-unstated); csv-axes-mismatch; csv-missing-column for a
 * position or height that is needed; with the blocks, those of the table; with each rejected row, those of its cells.
 */
export function readPoints(table: CsvTable, options: PointReadOptions): Outcome<PointInput> {
  const { source, header, headerLine, dialect } = table;
  const place = options.place ?? ((problem: Problem) => problem);
  const head: TableHeader = { source, header, headerLine, hasHeader: dialect.hasHeader };
  const axes = options.axes ?? axesInHeader(dialect.hasHeader ? header : [], Object.keys(options.mapping));
  const mismatch =
    options.axes === null
      ? unitProblem(head, axes)
      : dialect.hasHeader
        ? axesProblem(head, options.axes, options.mapping)
        : null;
  if (mismatch !== null) return failure(place(mismatch));
  const mapped = mapPointColumns(head, axes, options);
  if (!mapped.ok) return failureOf(mapped.problems.map(place));
  const map = mapped.value;
  const hasGrid = axes !== null && map.index(axes[0]) >= 0 && map.index(axes[1]) >= 0;
  const computed = options.keepComputed === true ? notHeld(map) : [];
  const passing = [...map.passThrough, ...computed].sort((a, b) => a.index - b.index);

  const piecesOf = createRowLoop<PointRow>(table, {
    map,
    reader: (cells) => createPointRow(cells, axes, options.needs, options.sourceIndex, passing),
    place,
    most: TOGETHER,
  });

  async function* blocks(): AsyncGenerator<Outcome<PointBlock>> {
    for await (const block of table.blocks()) {
      if (!block.ok) {
        yield failureOf(block.problems.map(place));
        return;
      }
      const rawOf = (point: PointRow): string => rawOfLine(block.value, point.place.line);
      for (const { rows, rejected, warnings } of piecesOf(block.value))
        yield success({ points: rows, rejected, warnings, rawOf });
    }
  }

  return success(
    {
      axes: hasGrid ? axes : null,
      has: (column) => map.index(column) >= 0,
      passThroughNames: passing.map(({ name }) => name),
      headerRaw: table.headerRaw,
      blocks,
    },
    mapped.problems.map(place),
  );
}

/** Known columns whose values a `PointRow` does not hold: computed by reduce-points, stale once a point is moved. */
function notHeld(map: ColumnMap): readonly PassThroughColumn[] {
  return [...KNOWN_POINT_COLUMNS.values()]
    .filter(({ put, kind }) => put === null && kind !== 'latitude' && kind !== 'longitude')
    .map(({ name }) => ({ name, index: map.index(name) }))
    .filter(({ index }) => index >= 0);
}

/** Columns found; then, only for the message, what is needed and absent. */
function mapPointColumns(head: TableHeader, axes: AxisNames | null, options: PointReadOptions): Outcome<ColumnMap> {
  const spec = pointTable(axes);
  const mapped = mapColumns(head, spec, options.mapping);
  if (!mapped.ok) return mapped;
  const map = mapped.value;
  const has = (names: readonly string[]): boolean => names.every((name) => map.index(name) >= 0);
  const { needs } = options;
  const grid: readonly (readonly string[])[] = axes === null ? [] : [axes];
  const geographic: readonly (readonly string[])[] = [['latitude_deg', 'longitude_deg']];
  const positions =
    needs.position === 'grid' ? grid : needs.position === 'geographic' ? geographic : [...grid, ...geographic];
  if (needs.position === 'grid' && axes === null) {
    return failure(
      errorProblem('csv-missing-column', {
        message: 'the file has no grid coordinates',
        where: { source: head.source, line: head.headerLine },
        hint: 'grid columns are named by the axes of the system, such as easting_m and northing_m; name the system with --system',
      }),
    );
  }
  if (needs.position !== 'none' && !positions.some(has))
    return mapColumns(head, { ...spec, choices: [{ what: 'a position', sets: positions }] }, options.mapping);
  const kinds = {
    ellipsoidal: ['ellipsoidal_height_m'],
    orthometric: ['orthometric_height_m'],
    any: spec.heights,
    none: [],
  }[needs.height];
  if (kinds.length > 0 && !kinds.some((name) => has([name]))) {
    return mapColumns(
      head,
      { ...spec, choices: [{ what: 'a height', sets: kinds.map((name) => [name]) }] },
      options.mapping,
    );
  }
  return mapped;
}
