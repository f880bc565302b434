import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { holdSource } from '../bytes/held-bytes.js';
import { memoryRoomBytes } from '../bytes/memory-room.js';
import type { Source } from '../bytes/source.js';
import { MAX_JSON_DEPTH } from '../documents/json/json-depth.js';
import type { JsonFault, JsonList } from '../documents/json/json-list.js';
import { createJsonSplitter, splitJson } from '../documents/json/json-split.js';
import type { SplitJson } from '../documents/json/json-split.js';
import { isOwnDocument, ownJsonFeature } from '../documents/own-json-features.js';

export type JsonObject = Readonly<Record<string, unknown>>;

/** The features of a collection, or the points of a document of ours as such. */
export interface Features {
  readonly features: JsonList;
  readonly isOurs: boolean;
}

/** Part of the memory that a document may take unpacked. */
const ROOM_TAKEN = 0.75;
/** The longest text that every engine can hold: no frame and no element is longer. */
const MOST_TEXT_BYTES = 500 * 1_048_576;
const LISTS = ['features', 'points'] as const;

/**
 * The features of a collection, with the digits of their numeric ids and properties kept (`splitJson`). They stay text until they are
 * asked for, and are checked then.
 * Given: the text; the file's name; bytes of memory there are for it.
 * Problems: geojson-syntax; geojson-structure, also for a member named twice in one object; geojson-crs for one anywhere;
 * file-too-large for one that would unpack to more than memory has room for.
 */
export function readFeatures(text: string, source: string, roomBytes: number = memoryRoomBytes()): Outcome<Features> {
  return featuresOf(splitJson(text, LISTS, 2 * MAX_JSON_DEPTH), source, roomBytes);
}

/**
 * The same of a file or another input, read to its end: a large file is not held, each feature is read again from where it stands.
 * Problems: also those of the source; file-too-large for another input than a file of UTF-8; file-changed, where the file is no longer
 * what was read.
 */
export async function openFeatures(source: Source): Promise<Outcome<Features>> {
  const roomBytes = memoryRoomBytes();
  const splitter = createJsonSplitter(LISTS, 2 * MAX_JSON_DEPTH, Math.min(ROOM_TAKEN * roomBytes, MOST_TEXT_BYTES));
  const held = await holdSource(source, splitter.push);
  return held.ok ? featuresOf(splitter.finish(held.value), source.name, roomBytes) : held;
}

function featuresOf(
  split: SplitJson | { readonly fault: JsonFault },
  source: string,
  roomBytes: number,
): Outcome<Features> {
  if ('fault' in split) return failure(faultProblem(split.fault, source));
  const { frame, lists, bytes } = split;
  if (frame === undefined || bytes > ROOM_TAKEN * roomBytes) return failure(tooMuchMemory(bytes, source));
  const points = lists.get('points');
  if (points !== undefined && isObject(frame) && isOwnDocument(frame))
    return success({ features: points.map(ownJsonFeature), isOurs: true });
  const features = lists.get('features');
  if (features === undefined || !isObject(frame) || frame['type'] !== 'FeatureCollection')
    return failure(structure(source, '', 'the document is not a FeatureCollection with features'));
  return success({ features, isOurs: false });
}

function tooMuchMemory(bytes: number, source: string): Problem {
  return errorProblem('file-too-large', {
    message: `would take about ${String(Math.ceil(bytes / 1_048_576))} MiB of memory, more than there is room for`,
    where: { source },
    hint: 'split the document, write it as CSV, or raise the bound of memory with NODE_OPTIONS=--max-old-space-size=MIB',
  });
}

export function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A fault of the document's form, at a path within it; none: of the whole. */
export function structure(source: string, path: string, message: string): Problem {
  return errorProblem('geojson-structure', {
    message,
    where: { source, ...(path !== '' && { path }) },
    hint: 'see RFC 7946 section 3',
  });
}

/** Why a document is refused, in words. */
export function faultProblem({ kind, key, line }: JsonFault, source: string): Problem {
  const where = { source, line };
  switch (kind) {
    case 'changed':
      return errorProblem('file-changed', { message: 'changed while it was read', where: { source } });
    case 'deep':
      return structure(source, '', `the document is nested more than ${String(MAX_JSON_DEPTH)} deep`);
    case 'syntax':
      return errorProblem('geojson-syntax', { message: 'the document is not valid JSON here', where });
    case 'duplicate':
      return errorProblem('geojson-structure', {
        message: `the member ${JSON.stringify(key)} stands twice in one object`,
        where,
        received: key,
        hint: 'keep one of the two: readers take either',
      });
    case 'crs':
      return errorProblem('geojson-crs', {
        message: 'the file names its own coordinate system',
        where,
        hint: 'write the file in WGS 84 longitude and latitude, without a crs member, as RFC 7946 section 4 asks',
      });
  }
}
