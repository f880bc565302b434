import { extname } from 'node:path';
import { readCsv } from '../io/csv-read.js';
import { readPoints } from '../io/points-read.js';
import type { PointInput, PointReadOptions } from '../io/points-read.js';
import type { AxisNames } from '../io/point-row-columns.js';
import type { PointNeeds } from '../io/point-row-read.js';
import { openSource } from '../io/source.js';
import type { Source } from '../io/source.js';
import type { GridSystem } from '../core/grid/grid-system.js';
import { success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { PointRow } from '../records/point-row.js';
import { locateProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import type { Context } from './context.js';
import { withOnePosition } from './one-position-input.js';
import type { Rejects } from './rejects.js';
import { StopError } from './stop.js';
import type { TableOptions } from './table-options.js';
import type { Workbench } from './workbench.js';

/** How a file of points is read. */
export interface PointInputSettings {
  readonly tables: TableOptions;
  /** The system of the file's grid columns; null: the header's own pair counts, and its unit is in its name. */
  readonly grid: GridSystem | null;
  readonly needs: PointNeeds;
  readonly keepComputed?: boolean;
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
export async function openPoints(path: string, sourceIndex: number, settings: PointInputSettings, context: Context): Promise<Outcome<OpenedPoints>> {
  const { tables } = settings;
  const opened = await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: tables.encoding });
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
  const place = kind === 'geojson' ? (await import('../io/geojson-table.js')).geojsonPlace : (problem: Problem): Problem => problem;
  return success({ source, kind, input: withOnePosition(input.value, { grid: settings.grid, choice: tables.positionFrom, source: source.name, place }) }, input.problems);
}

async function csvInput(source: Source, tables: TableOptions, options: PointReadOptions): Promise<Outcome<PointInput>> {
  const table = await readCsv(source, tables.dialect);
  return table.ok ? readPoints(table.value, options) : table;
}

async function geojsonInput(source: Source, options: PointReadOptions): Promise<Outcome<PointInput>> {
  const { geojsonPlace, readGeojsonTable } = await import('../io/geojson-table.js');
  const { wholeText } = await import('../io/whole-text.js');
  const text = await wholeText(source);
  if (!text.ok) return text;
  const table = readGeojsonTable(text.value, source.name, 'allowed');
  return table.ok ? readPoints(table.value, { ...options, place: geojsonPlace }) : table;
}

/** The rows of one opened file, all in memory, and how many were left out. */
export interface CollectedPoints {
  readonly points: readonly PointRow[];
  readonly rejected: number;
}

/**
 * Reads an opened file to its end. Bad rows are reported and handed to `rejects`; the run stops after the whole file
 * was checked unless --on-error skip was given. `check` looks at each point that could be read: one with an error is a
 * bad row too.
 */
export async function collectPoints(
  opened: OpenedPoints, bench: Workbench, onError: 'stop' | 'skip', rejects: Rejects | null = null, check: ((point: PointRow) => readonly Problem[]) | null = null,
): Promise<CollectedPoints> {
  const points: PointRow[] = [];
  let rejected = 0;
  await rejects?.start(opened.input.headerRaw);
  for await (const item of opened.input.blocks()) {
    bench.breathe();
    const block = bench.take(item);
    const bad = [...block.rejected];
    for (const row of block.rejected) bench.diagnostics.report(row.problems);
    for (const point of block.points) {
      const problems = (check?.(point) ?? []).map((problem) => locateProblem(problem, { source: opened.source.name, line: point.place.line }));
      bench.diagnostics.report(problems);
      if (problems.some(({ severity }) => severity === 'error')) bad.push({ line: point.place.line, raw: block.rawOf(point), problems });
      else points.push(point);
    }
    rejected += bad.length;
    if (bad.length > 0) await rejects?.add(bad.sort((a, b) => a.line - b.line));
    bench.progress.update(`${opened.source.name}: ${String(points.length + rejected)} rows`);
  }
  if (rejected > 0 && onError === 'stop') throw new StopError([]);
  return { points, rejected };
}
