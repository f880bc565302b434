import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PlanShape } from '../../records/reports/parts/plan-shape.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { CsvTable } from '../csv/csv-read.js';
import { present } from '../../records/present.js';
import type { JsonList } from '../documents/json/json-list.js';
import { faultProblem, isObject } from './geojson-features.js';
import type { JsonObject } from './geojson-features.js';
import { geojsonPlace, tableOfFeatures } from './geojson-table.js';
import { isDeeperThan, MAX_JSON_DEPTH } from '../documents/json/json-depth.js';
import { createShapeReader } from './shape-positions.js';

/** A GeoJSON file of what is to be served: points as a table, lines and areas as shapes. */
export interface PlanGeometry {
  /** Null: the file has no points. */
  readonly points: CsvTable | null;
  readonly shapes: readonly PlanShape[];
  /** Places a problem of a row of `points` at its feature in the file. */
  readonly place: (problem: Problem) => Problem;
}

const SHAPES: readonly string[] = ['LineString', 'MultiLineString', 'Polygon', 'MultiPolygon'];

/**
 * Points, lines and areas of the features of a collection (`openFeatures`). Points are read as by `readGeojsonTable`; a line or area is
 * named by its property point_id or the feature's id, and may carry tolerance_horizontal_m and tolerance_vertical_m.
 * Problems: those of `tableOfFeatures`; geojson-structure for another geometry, an empty one, or positions of mixed
 * dimensions within one shape; value-not-a-number and value-out-of-range for tolerances; value-duplicate-id for two shapes of one name.
 * Source: RFC 7946 sections 3.1.4 to 3.1.7.
 */
export function readPlanGeometry(features: JsonList, source: string): Outcome<PlanGeometry> {
  const shapes: PlanShape[] = [];
  const problems: Problem[] = [];
  const original: number[] = [];
  const fault = features.each((feature, index) => {
    if (isDeeperThan(feature, MAX_JSON_DEPTH)) {
      const where = { source, path: `features[${String(index)}]` };
      problems.push(
        errorProblem('geojson-structure', {
          message: `is nested more than ${String(MAX_JSON_DEPTH)} deep`,
          where,
          hint: 'see RFC 7946 section 3',
        }),
      );
    } else if (isShape(feature)) readShape(feature, source, `features[${String(index)}]`, index, shapes, problems);
    else original.push(index);
    return true;
  });
  if (fault !== null) return failure(faultProblem(fault, source));
  const names = new Set<string>();
  for (const shape of shapes) {
    if (names.has(shape.id))
      problems.push(
        errorProblem('value-duplicate-id', {
          message: `the name ${shape.id} occurs twice`,
          where: { source, path: shape.path },
          received: shape.id,
          hint: 'give each line and area its own point_id',
        }),
      );
    names.add(shape.id);
  }
  const moved = (problem: Problem): Problem => atFeature(problem, original);
  const table = original.length > 0 ? tableOfFeatures(features.pick(original), source, 'allowed') : null;
  if (table !== null && !table.ok) pushAll(problems, table.problems.map(moved));
  if (problems.length > 0) return failureOf(problems);
  return success({
    points: table?.ok === true ? table.value : null,
    shapes,
    place: (problem) => moved(geojsonPlace(problem)),
  });
}

function isShape(feature: unknown): feature is JsonObject {
  if (!isObject(feature) || feature['type'] !== 'Feature' || !isObject(feature['geometry'])) return false;
  return SHAPES.includes(String(feature['geometry']['type']));
}

function readShape(
  feature: JsonObject,
  source: string,
  path: string,
  index: number,
  shapes: PlanShape[],
  problems: Problem[],
): void {
  const geometry = feature['geometry'] as JsonObject;
  const properties = isObject(feature['properties']) ? feature['properties'] : {};
  const before = problems.length;
  const reader = createShapeReader(source, `${path}.geometry.coordinates`, problems);
  const { coordinates } = geometry;
  const isLine = String(geometry['type']).endsWith('LineString');
  const lines =
    geometry['type'] === 'LineString'
      ? [reader.line(coordinates)]
      : geometry['type'] === 'MultiLineString'
        ? reader.lines(coordinates)
        : [];
  const polygons =
    geometry['type'] === 'Polygon'
      ? [reader.rings(coordinates)]
      : geometry['type'] === 'MultiPolygon'
        ? reader.polygons(coordinates)
        : [];
  const tolerance = (name: string): number | null => toleranceOf(properties[name], name, source, path, problems);
  const shape: PlanShape = {
    id: idOf(properties['point_id'] ?? feature['id'], index),
    kind: isLine ? 'line' : 'area',
    lines,
    polygons,
    toleranceHorizontalM: tolerance('tolerance_horizontal_m'),
    toleranceVerticalM: tolerance('tolerance_vertical_m'),
    source,
    path,
  };
  if (problems.length === before) shapes.push(shape);
}

function idOf(value: unknown, index: number): string {
  return typeof value === 'string' && value.trim() !== ''
    ? value.trim()
    : typeof value === 'number'
      ? String(value)
      : `feature-${String(index + 1)}`;
}

function toleranceOf(value: unknown, name: string, source: string, path: string, problems: Problem[]): number | null {
  if (value === undefined || value === null || value === '') return null;
  const number = typeof value === 'number' ? value : typeof value === 'string' ? parseDecimal(value) : null;
  const where = { source, path: `${path}.properties.${name}` };
  if (number === null)
    problems.push(errorProblem('value-not-a-number', { message: `${JSON.stringify(value)} is not a number`, where }));
  else if (!(number >= 0 && number <= 1e6))
    problems.push(errorProblem('value-out-of-range', { message: `${String(number)} is outside 0..1000000`, where }));
  return number;
}

/** Turns `features[n]` of the table of points into the feature's own number. */
function atFeature(problem: Problem, original: readonly number[]): Problem {
  const { where } = problem;
  if (where?.path === undefined) return problem;
  const path = where.path.replace(
    /^features\[(\d+)\]/u,
    (_, digits: string) =>
      `features[${String(original[present(parseDecimal(digits), 'the number of a feature')] ?? digits)}]`,
  );
  return { ...problem, where: { ...where, path } };
}
