import { extname } from 'node:path';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { openFeatures } from '../../io/geojson/geojson-features.js';
import { readPlanGeometry } from '../../io/geojson/plan-geometry-read.js';
import { readPoints } from '../../io/tables/points/points-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PlanShape } from '../../records/reports/parts/plan-shape.js';
import { axisNames, openPoints } from '../points/open-points.js';
import type { OpenedPoints, PointInputSettings } from '../points/open-points.js';
import { withOnePosition } from '../points/one-position-input.js';
import type { Surroundings } from '../surroundings.js';

/** A file of places to be served: its lines and areas, and its points, still to be read; null: it has none. */
export interface OpenedPlanInput {
  readonly source: Source;
  readonly shapes: readonly PlanShape[];
  readonly points: OpenedPoints | null;
}

/** True for a file read as GeoJSON. */
export function isGeojson(path: string): boolean {
  return ['.geojson', '.json'].includes(extname(path).toLowerCase());
}

/**
 * Opens the points, lines and areas to be served: GeoJSON by its extension, else CSV, which has points alone.
 * Problems: those of `openPoints`, `openFeatures` and `readPlanGeometry`.
 */
export async function openPlanInput(
  path: string,
  settings: PointInputSettings,
  surroundings: Surroundings,
): Promise<Outcome<OpenedPlanInput>> {
  if (!isGeojson(path)) {
    const opened = await openPoints(path, 0, settings, surroundings);
    return opened.ok
      ? success({ source: opened.value.source, shapes: [], points: opened.value }, opened.problems)
      : opened;
  }
  const { tables, grid, needs } = settings;
  const { cwd, stdin } = surroundings;
  const opened = await openSource(path, { cwd, stdin, encoding: tables.encoding });
  if (!opened.ok) return opened;
  const source = opened.value;
  const read = await openFeatures(source);
  if (!read.ok) return read;
  const geometry = readPlanGeometry(read.value.features, source.name);
  if (!geometry.ok) return geometry;
  const { shapes, points, place } = geometry.value;
  if (points === null) return success({ source, shapes, points: null }, geometry.problems);
  const rows = readPoints(points, { sourceIndex: 0, mapping: tables.mapping, axes: axisNames(grid), needs, place });
  if (!rows.ok) return rows;
  const rule = { grid, choice: tables.positionFrom, source: source.name, place };
  const input = withOnePosition(rows.value, rule);
  return success({ source, shapes, points: { source, kind: 'geojson', input } }, [
    ...geometry.problems,
    ...rows.problems,
  ]);
}
