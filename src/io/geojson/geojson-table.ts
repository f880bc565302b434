import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { CsvDialect } from '../csv/csv-dialect.js';
import { DEFAULT_DIALECT } from '../csv/csv-dialect.js';
import type { CsvBlock } from '../csv/csv-block.js';
import type { CsvTable } from '../csv/csv-read.js';
import { FileChanged } from '../bytes/held-bytes.js';
import type { Source } from '../bytes/source.js';
import { pieceSize } from '../host/way.js';
import { CHANGED } from '../documents/json/json-list.js';
import type { JsonList } from '../documents/json/json-list.js';
import { isDeeperThan, MAX_JSON_DEPTH } from '../documents/json/json-depth.js';
import { faultProblem, isObject, openFeatures, readFeatures, structure } from './geojson-features.js';
import type { Features, JsonObject } from './geojson-features.js';
import { geometryProblem } from './geometry-agrees.js';

const POSITION = ['longitude_deg', 'latitude_deg', 'ellipsoidal_height_m'] as const;
const OTHER_HEIGHT = 'orthometric_height_m';
const FEATURES_A_BLOCK = pieceSize(2_000, 3);
/** Cells that are held at once. */
const CELLS_A_BLOCK = 500_000;
/** Different names of properties: each is a column of every feature. */
const MAX_PROPERTY_NAMES = 2000;
/** Faults of features that are told: one of them refuses the document. */
const MOST_PROBLEMS = 1000;

/**
 * A GeoJSON FeatureCollection of points as a table of text, so that it is read by the same column names as a CSV file.
 * The geometry is the position: longitude_deg, latitude_deg and ellipsoidal_height_m are its own, and the properties of
 * those names, where they are there, must agree with it (`geometryProblem`). The feature's `id` fills point_id where the
 * properties do not have one. A JSON file of points that this program wrote is read likewise (`ownJsonFeature`).
 * Given: the document; the file's name; whether a feature may have no geometry (section 3.2), which leaves its position
 * empty. Record numbers are those of the features; turn problems of the rows into paths
 * with `geojsonPlace`.
 * Problems: geojson-syntax with its line; geojson-structure with the path; geojson-crs;
 * position-mismatch.
 * Source: RFC 7946 sections 3.1.1, 3.1.2, 3.2, 3.3 and 4. The inverse is `createGeojsonWriter`.
 */
export function readGeojsonTable(
  text: string,
  source: string,
  unlocated: 'refused' | 'allowed' = 'refused',
): Outcome<CsvTable> {
  return tableOf(readFeatures(text, source), source, unlocated);
}

/** The same of a file or another input, read to its end. Problems also those of the source, and of `holdSource`. */
export async function openGeojsonTable(
  source: Source,
  unlocated: 'refused' | 'allowed' = 'refused',
): Promise<Outcome<CsvTable>> {
  return tableOf(await openFeatures(source), source.name, unlocated);
}

function tableOf(read: Outcome<Features>, source: string, unlocated: 'refused' | 'allowed'): Outcome<CsvTable> {
  return read.ok ? tableOfFeatures(read.value.features, source, read.value.isOurs ? 'allowed' : unlocated) : read;
}

/** A table of features that were read by `readFeatures`. */
export function tableOfFeatures(
  features: JsonList,
  source: string,
  unlocated: 'refused' | 'allowed',
): Outcome<CsvTable> {
  const problems: Problem[] = [];
  const names = new Set<string>();
  let hasIds = false;
  let hasHeights = false;
  const fault = features.each((feature, index) => {
    const path = `features[${String(index)}]`;
    const problem = featureProblem(feature, source, path, unlocated) ?? addNames(names, feature, source, path);
    if (problem !== null) problems.push(problem);
    if (isObject(feature) && feature['id'] !== undefined) hasIds = true;
    hasHeights ||= coordinatesOf(feature).length > 2;
    return problems.length < MOST_PROBLEMS;
  });
  if (fault !== null) return failure(faultProblem(fault, source));
  if (problems.length > 0) return failureOf(problems);
  // Where no position has a height and the properties have one of another kind, it is read as that.
  const isOtherHeight = !hasHeights && names.has(OTHER_HEIGHT);
  const header = [
    ...new Set([...(isOtherHeight ? POSITION.slice(0, 2) : POSITION), ...(hasIds ? ['point_id'] : []), ...names]),
  ];
  return success({
    source,
    dialect: GEOJSON_DIALECT,
    header,
    headerLine: 0,
    headerRaw: null,
    blocks: () => featureBlocks(features, header, source),
    byteBlocks: null,
  });
}

/** Adds the names of a feature's properties; the problem of the first beyond the limit. */
function addNames(names: Set<string>, feature: unknown, source: string, path: string): Problem | null {
  for (const name of Object.keys(propertiesOf(feature))) {
    names.add(name);
    if (names.size <= MAX_PROPERTY_NAMES) continue;
    names.delete(name);
    return structure(
      source,
      `${path}.properties.${name}`,
      `is one more than ${String(MAX_PROPERTY_NAMES)} different names of properties in the file`,
    );
  }
  return null;
}

const GEOJSON_DIALECT: CsvDialect = DEFAULT_DIALECT;

/** The problem placed by its path in the document, `features[3].properties.sigma_up_m`, in place of line and field. */
export function geojsonPlace(problem: Problem): Problem {
  const { where } = problem;
  if (where?.record === undefined) return problem;
  const path = `features[${String(where.record - 1)}]${where.column === undefined ? '' : `.properties.${where.column}`}`;
  return {
    ...problem,
    // A position has no headers that could be exchanged.
    ...(problem.code === 'coordinates-swapped' && { hint: 'mend the file: in GeoJSON the longitude comes first' }),
    where: {
      path,
      record: where.record,
      ...(where.source !== undefined && { source: where.source }),
      ...(where.column !== undefined && { column: where.column }),
    },
  };
}

async function* featureBlocks(
  features: JsonList,
  header: readonly string[],
  source: string,
): AsyncGenerator<Outcome<CsvBlock>> {
  await Promise.resolve();
  const count = Math.max(1, Math.min(FEATURES_A_BLOCK, Math.floor(CELLS_A_BLOCK / header.length)));
  for (let first = 0; first < features.count; first += count) {
    const rows = rowsOf(features, first, first + count, header);
    if (rows === null) {
      yield failure(faultProblem(CHANGED, source));
      return;
    }
    yield success({
      rows: () => rows,
      plain: null,
      startOf: () => 0,
      firstRecord: first + 1,
      // A document has no lines of its own: the number of the feature stands for one.
      lineOf: (index) => first + index + 1,
      rawOf: (index) => features.textOf(first + index),
    });
  }
}

/** Cells of features from one up to another; null where their file is no longer what was read. */
function rowsOf(
  features: JsonList,
  from: number,
  to: number,
  header: readonly string[],
): readonly (readonly string[])[] | null {
  try {
    return features.slice(from, to).map((feature) => cellsOf(feature, header));
  } catch (error) {
    if (error instanceof FileChanged) return null;
    throw error;
  }
}

function cellsOf(feature: unknown, header: readonly string[]): readonly string[] {
  const properties = propertiesOf(feature);
  const coordinates = coordinatesOf(feature);
  return header.map((name, index) => {
    // The geometry is the position; the properties were compared with it, and fill what it lacks.
    if (index < POSITION.length && coordinates[index] !== undefined) return cellText(coordinates[index]);
    if (Object.hasOwn(properties, name) && properties[name] !== null) return cellText(properties[name]);
    return name === 'point_id' && isObject(feature) ? cellText(feature['id']) : '';
  });
}

/** Of a feature that was looked at, or is about to be; none: it has no position. */
function coordinatesOf(feature: unknown): readonly unknown[] {
  const geometry = isObject(feature) ? feature['geometry'] : null;
  const coordinates = isObject(geometry) ? geometry['coordinates'] : null;
  return Array.isArray(coordinates) ? coordinates : [];
}

function cellText(value: unknown): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'string' ? value : JSON.stringify(value);
}

function featureProblem(
  feature: unknown,
  source: string,
  path: string,
  unlocated: 'refused' | 'allowed',
): Problem | null {
  if (!isObject(feature) || feature['type'] !== 'Feature') return structure(source, path, 'is not a Feature');
  if (isDeeperThan(feature, MAX_JSON_DEPTH))
    return structure(source, path, `is nested more than ${String(MAX_JSON_DEPTH)} deep`);
  const { geometry, properties } = feature;
  if (geometry === null && unlocated === 'allowed') return propertiesProblem(properties, source, path);
  if (!isObject(geometry) || geometry['type'] !== 'Point')
    return structure(source, `${path}.geometry`, 'is not a Point');
  const coordinates = geometry['coordinates'];
  const isPosition =
    Array.isArray(coordinates) &&
    (coordinates.length === 2 || coordinates.length === 3) &&
    coordinates.every((value) => typeof value === 'number');
  if (!isPosition) {
    return structure(
      source,
      `${path}.geometry.coordinates`,
      'are not longitude, latitude and height as two or three numbers',
    );
  }
  const repeated = propertiesOf(feature);
  const textOf = (name: string): string => (Object.hasOwn(repeated, name) ? cellText(repeated[name]).trim() : '');
  const texts = {
    latitude: textOf('latitude_deg'),
    longitude: textOf('longitude_deg'),
    height: textOf('ellipsoidal_height_m'),
  };
  return propertiesProblem(properties, source, path) ?? geometryProblem(coordinates, texts, { source, path });
}

function propertiesProblem(properties: unknown, source: string, path: string): Problem | null {
  if (properties === null || properties === undefined || isObject(properties)) return null;
  return structure(source, `${path}.properties`, 'are not an object');
}

function propertiesOf(feature: unknown): JsonObject {
  const properties = isObject(feature) ? feature['properties'] : null;
  return isObject(properties) ? properties : {};
}
