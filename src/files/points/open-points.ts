import { extname } from 'node:path';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { readCsv } from '../../io/csv/csv-read.js';
import type { AxisNames } from '../../io/tables/points/point-row-columns.js';
import type { PointNeeds } from '../../io/tables/points/point-row-read.js';
import { readPoints } from '../../io/tables/points/points-read.js';
import type { PointInput, PointReadOptions } from '../../io/tables/points/points-read.js';
import { rawLook } from '../../io/tables/points/raw-look.js';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { PositionChoice } from '../../tasks/join/one-position.js';
import { withOnePosition } from './one-position-input.js';
import type { Surroundings } from '../surroundings.js';
import type { TableReading } from '../tables/table-reading.js';

/** How a file of points is read. */
export interface PointInputSettings {
  readonly tables: TableReading & { readonly positionFrom: PositionChoice };
  /** The system of the file's grid columns; null: the header's own pair counts, and its unit is in its name. */
  readonly grid: GridSystem | null;
  readonly needs: PointNeeds;
  readonly keepComputed?: boolean;
  /** Whether the points are to be reduced ones, so that raw fixes in their place are told. */
  readonly areReduced?: boolean;
}

export interface OpenedPoints {
  readonly source: Source;
  readonly kind: 'csv' | 'geojson';
  readonly input: PointInput;
}

/** Column names of a system's axes. */
export function axisNames(grid: GridSystem | null): AxisNames | null {
  return grid === null ? null : [grid.axes[0].columnName, grid.axes[1].columnName];
}

/** Opens one file of points, control, design or candidates: GeoJSON by its extension, else CSV. */
export async function openPoints(
  path: string,
  sourceIndex: number,
  settings: PointInputSettings,
  { cwd, stdin }: Surroundings,
): Promise<Outcome<OpenedPoints>> {
  const { tables } = settings;
  const opened = await openSource(path, { cwd, stdin, encoding: tables.encoding });
  if (!opened.ok) return opened;
  const source = opened.value;
  const options: PointReadOptions = {
    sourceIndex,
    mapping: tables.mapping,
    axes: axisNames(settings.grid),
    needs: settings.needs,
    keepComputed: settings.keepComputed ?? false,
  };
  const kind = ['.geojson', '.json'].includes(extname(path).toLowerCase()) ? 'geojson' : 'csv';
  const input = kind === 'geojson' ? await geojsonInput(source, options) : await csvInput(source, tables, options);
  if (!input.ok) {
    await source.close();
    return input;
  }
  const place =
    kind === 'geojson'
      ? (await import('../../io/geojson/geojson-table.js')).geojsonPlace
      : (problem: Problem): Problem => problem;
  return success(
    {
      source,
      kind,
      input: withOnePosition(input.value, {
        grid: settings.grid,
        choice: tables.positionFrom,
        source: source.name,
        place,
      }),
    },
    settings.areReduced === true ? withRawLook(input.problems, input.value, source) : input.problems,
  );
}

function withRawLook(problems: readonly Problem[], input: PointInput, { name }: Source): readonly Problem[] {
  const look = rawLook(input, name);
  return look === null ? problems : [...problems, look];
}

async function csvInput(source: Source, tables: TableReading, options: PointReadOptions): Promise<Outcome<PointInput>> {
  const table = await readCsv(source, tables.dialect);
  return table.ok ? readPoints(table.value, options) : table;
}

async function geojsonInput(source: Source, options: PointReadOptions): Promise<Outcome<PointInput>> {
  const { geojsonPlace, openGeojsonTable } = await import('../../io/geojson/geojson-table.js');
  const table = await openGeojsonTable(source, 'allowed');
  return table.ok ? readPoints(table.value, { ...options, place: geojsonPlace }) : table;
}
