import type { GeoTIFF, GeoTIFFImage } from 'geotiff';
import type { GridLevel } from '../../../core/geoid/geoid-grid.js';
import { MAXIMUM_GRID_NODES } from '../../../core/geoid/grid-level-from.js';
import { InternalError } from '../../../records/internal-error.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Problem } from '../../../records/problem.js';
import { readGeotiffImage } from './geotiff-image.js';
import { geotiffFrame } from './geotiff-placement.js';
import { geotiffSampleOf } from './geotiff-sample.js';
import { DEFAULT_GRID_READING } from '../grid-reading.js';
import type { GeoidFileContent, GridReading } from '../grid-reading.js';
import { tiffClaimsFault } from './tiff-claims.js';

/** Bits of NewSubfileType: a reduced copy of another image, and a mask. */
const REDUCED_OR_MASK = 1 | 4;

/**
 * Reads a geodetic TIFF grid of geoid heights.
 *
 * Given: the file's bytes.
 * Returned: one level for each image, finest first; reduced copies and masks are passed over. The
 * frame is the first image's geographic system. A warning where the file does not say that it holds
 * geoid heights.
 * Problems: `grid-unreadable` where the TIFF is damaged; `grid-unsupported` where it is sound but
 * holds something else, or is laid out in a way that is not read (docs/geoid-formats.md).
 * Notes: blocks are unpacked in this thread, one image after another.
 */
export async function readGeotiffGrid(
  bytes: Uint8Array,
  reading: GridReading = DEFAULT_GRID_READING,
): Promise<Outcome<GeoidFileContent>> {
  try {
    return await readImages(bytes, reading);
  } catch (error) {
    if (error instanceof InternalError || reading.signal?.aborted === true) throw error;
    // The library speaks of tags it does not know as undefined.
    const reason =
      error instanceof Error && !error.message.includes('undefined') ? error.message : 'its directory is damaged';
    return bad('grid-unreadable', `the file is not a TIFF that can be decoded (${reason})`);
  }
}

async function readImages(bytes: Uint8Array, reading: GridReading): Promise<Outcome<GeoidFileContent>> {
  const opened = await openGeotiffImages(bytes, reading);
  if (!opened.ok) return opened;
  const images = opened.value;
  const first = images[0];
  if (first === undefined) return bad('grid-unreadable', 'the TIFF has no image');

  const levels: GridLevel[] = [];
  let isStated = true;
  for (const image of images) {
    const sample = await geotiffSampleOf(image, first);
    if (!sample.ok) return sample;
    const level = await readGeotiffImage(image, sample.value, bytes, reading);
    if (!level.ok) return level;
    isStated &&= sample.value.isStated;
    levels.push(level.value);
  }
  levels.sort((a, b) => cellArea(a) - cellArea(b));
  const warnings: Problem[] = isStated
    ? []
    : [
        {
          code: 'grid-unsupported',
          severity: 'warning',
          message: 'the TIFF does not say what its numbers are; they are taken as geoid heights',
          hint: 'check that they are heights of the geoid above the ellipsoid, in metres',
        },
      ];
  return success({ frame: geotiffFrame(first), precisionNote: null, levels }, warnings);
}

/**
 * The full images of a TIFF, at least one, reduced copies and masks passed over.
 * Problems: grid-unreadable, grid-unsupported. Throws what the decoder throws.
 */
export async function openGeotiffImages(
  bytes: Uint8Array,
  reading: GridReading,
): Promise<Outcome<readonly GeoTIFFImage[]>> {
  const fault = tiffClaimsFault(bytes);
  if (fault !== null) return bad(fault.code, fault.message);
  const { fromArrayBuffer } = await import('geotiff');
  const tiff = await fromArrayBuffer(exactBuffer(bytes));
  // Arrays read later are taken as little-endian whatever the file is (geotiff 3.0.5, its issue 535); read at once they are right.
  tiff.parser.eager = true;
  const images = await imagesOf(tiff);
  if (images.length === 0) return bad('grid-unreadable', 'the TIFF has no image');
  const nodes = images.reduce((sum, image) => sum + image.getWidth() * image.getHeight(), 0);
  if (!(nodes <= MAXIMUM_GRID_NODES))
    return bad('grid-unsupported', `the TIFF has ${nodes} nodes, more than ${MAXIMUM_GRID_NODES}`);
  if (nodes > reading.mostNodes) {
    return bad(
      'grid-unsupported',
      `the TIFF unpacks to ${nodes} nodes, more than ${reading.mostNodes}`,
      `cut it to the area of the work, or allow so many with --grid-nodes ${nodes}`,
    );
  }
  return success(images);
}

/** The full images of the file, whose list of directories `tiffClaimsFault` has seen to end. */
async function imagesOf(tiff: GeoTIFF): Promise<readonly GeoTIFFImage[]> {
  const images: GeoTIFFImage[] = [];
  for (let index = 0; ; index += 1) {
    const image = await tiff.getImage(index);
    // TIFF 6.0: absent means 0.
    const kind = image.fileDirectory.getValue('NewSubfileType') ?? 0;
    if ((kind & REDUCED_OR_MASK) === 0) images.push(image);
    if (image.fileDirectory.nextIFDByteOffset === 0) return images;
  }
}

function exactBuffer(bytes: Uint8Array): ArrayBuffer {
  if (bytes.buffer instanceof ArrayBuffer && bytes.byteOffset === 0 && bytes.byteLength === bytes.buffer.byteLength)
    return bytes.buffer;
  return Uint8Array.from(bytes).buffer;
}

function cellArea(level: GridLevel): number {
  return level.latitudeStepDeg * level.longitudeStepDeg;
}

function bad(code: Problem['code'], message: string, hint?: string): Outcome<never> {
  return failure({ code, severity: 'error', message, ...(hint === undefined ? {} : { hint }) });
}
