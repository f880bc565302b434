import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { CsvDialect } from '../csv/csv-dialect.js';
import { DEFAULT_DIALECT } from '../csv/csv-dialect.js';
import type { CsvBlock } from '../csv/csv-block.js';
import type { CsvTable } from '../csv/csv-read.js';
import type { JsonFault, JsonList } from '../documents/json-list.js';
import { splitJson } from '../documents/json-split.js';
import { geometryProblem } from './geometry-agrees.js';
import { isOwnDocument, ownJsonFeature } from '../documents/own-json-features.js';
import { isDeeperThan, MAX_JSON_DEPTH } from '../documents/json-depth.js';
import { memoryRoomBytes } from '../bytes/memory-room.js';

type JsonObject = Readonly<Record<string, unknown>>;

const POSITION = ['longitude_deg', 'latitude_deg', 'ellipsoidal_height_m'] as const;
const FEATURES_A_BLOCK = 10_000;
/** Cells that are held at once. */
const CELLS_A_BLOCK = 500_000;
/** Different names of properties: each is a column of every feature. */
const MAX_PROPERTY_NAMES = 2000;
/** Part of the memory that a document may take unpacked. */
const ROOM_TAKEN = 0.75;
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
  const features = readFeatures(text, source);
  return features.ok
    ? tableOfFeatures(features.value.features, source, features.value.isOurs ? 'allowed' : unlocated)
    : features;
}

/**
 * The features of a collection, with the digits of their numeric ids and properties kept (`splitJson`). They stay text until they are
 * asked for, and are checked then.
 * Given: the text; the file's name; bytes of memory there are for it.
 * Problems: geojson-syntax; geojson-structure, also for a member named twice in one object; geojson-crs for one anywhere;
 * file-too-large for one that would unpack to more than memory has room for.
 */
export function readFeatures(
  text: string,
  source: string,
  roomBytes: number = memoryRoomBytes(),
): Outcome<{ readonly features: JsonList; readonly isOurs: boolean }> {
  const split = splitJson(text, ['features', 'points'], 2 * MAX_JSON_DEPTH);
  if ('fault' in split) return failure(faultProblem(split.fault, source));
  const { frame, lists, bytes } = split;
  if (bytes > ROOM_TAKEN * roomBytes) {
    const hint =
      'split the document, write it as CSV, or raise the bound of memory with NODE_OPTIONS=--max-old-space-size=MIB';
    return failure(
      errorProblem('file-too-large', {
        message: `would take about ${String(Math.ceil(bytes / 1_048_576))} MiB of memory, more than there is room for`,
        where: { source },
        hint,
      }),
    );
  }
  const points = lists.get('points');
  if (points !== undefined && isObject(frame) && isOwnDocument(frame))
    return success({ features: points.map(ownJsonFeature), isOurs: true });
  const features = lists.get('features');
  if (features === undefined || !isObject(frame) || frame['type'] !== 'FeatureCollection')
    return failure(structure(source, '', 'the document is not a FeatureCollection with features'));
  return success({ features, isOurs: false });
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
  const fault = features.each((feature, index) => {
    const path = `features[${String(index)}]`;
    const problem = featureProblem(feature, source, path, unlocated) ?? addNames(names, feature, source, path);
    if (problem !== null) problems.push(problem);
    if (isObject(feature) && feature['id'] !== undefined) hasIds = true;
    return problems.length < MOST_PROBLEMS;
  });
  if (fault !== null) return failure(faultProblem(fault, source));
  if (problems.length > 0) return failureOf(problems);
  const header = [...new Set([...POSITION, ...(hasIds ? ['point_id'] : []), ...names])];
  return success({
    source,
    dialect: GEOJSON_DIALECT,
    header,
    headerLine: 0,
    headerRaw: null,
    blocks: () => featureBlocks(features, header),
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
    where: {
      path,
      record: where.record,
      ...(where.source !== undefined && { source: where.source }),
      ...(where.column !== undefined && { column: where.column }),
    },
  };
}

async function* featureBlocks(features: JsonList, header: readonly string[]): AsyncGenerator<Outcome<CsvBlock>> {
  await Promise.resolve();
  const count = Math.max(1, Math.min(FEATURES_A_BLOCK, Math.floor(CELLS_A_BLOCK / header.length)));
  for (let first = 0; first < features.count; first += count) {
    yield success({
      rows: features.slice(first, first + count).map((feature) => cellsOf(feature, header)),
      plain: null,
      startOf: () => 0,
      firstRecord: first + 1,
      // A document has no lines of its own: the number of the feature stands for one.
      lineOf: (index) => first + index + 1,
      rawOf: (index) => features.textOf(first + index),
    });
  }
}

function cellsOf(feature: unknown, header: readonly string[]): readonly string[] {
  const properties = propertiesOf(feature);
  const geometry = isObject(feature) ? feature['geometry'] : null;
  const coordinates = isObject(geometry) ? (geometry['coordinates'] as readonly unknown[]) : [];
  return header.map((name, index) => {
    // The geometry is the position; the properties were compared with it, and fill what it lacks.
    if (index < POSITION.length && coordinates[index] !== undefined) return cellText(coordinates[index]);
    if (Object.hasOwn(properties, name) && properties[name] !== null) return cellText(properties[name]);
    return name === 'point_id' && isObject(feature) ? cellText(feature['id']) : '';
  });
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

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function structure(source: string, path: string, message: string): Problem {
  return errorProblem('geojson-structure', {
    message,
    where: { source, ...(path !== '' && { path }) },
    hint: 'see RFC 7946 section 3',
  });
}

/** Why a document is refused, in words. */
export function faultProblem({ kind, key, line }: JsonFault, source: string): Problem {
  const where = { source, line };
  if (kind === 'deep') return structure(source, '', `the document is nested more than ${String(MAX_JSON_DEPTH)} deep`);
  if (kind === 'syntax')
    return errorProblem('geojson-syntax', { message: 'the document is not valid JSON here', where });
  if (kind === 'duplicate')
    return errorProblem('geojson-structure', {
      message: `the member ${JSON.stringify(key)} stands twice in one object`,
      where,
      received: key,
      hint: 'keep one of the two: readers take either',
    });
  return errorProblem('geojson-crs', {
    message: 'the file names its own coordinate system',
    where,
    hint: 'write the file in WGS 84 longitude and latitude, without a crs member, as RFC 7946 section 4 asks',
  });
}
