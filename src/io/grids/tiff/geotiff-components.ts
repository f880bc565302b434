import type { GeoTIFFImage } from 'geotiff';
import type { GridLevel } from '../../../core/geoid/geoid-grid.js';
import { ownEntry } from '../../../core/numeric/own-entry.js';
import { InternalError } from '../../../records/internal-error.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { GridReading } from '../grid-reading.js';
import { metadataOfImage } from './gdal-metadata.js';
import { openGeotiffImages } from './geotiff-grid-read.js';
import { readGeotiffImage } from './geotiff-image.js';
import { geotiffPackingOf } from './geotiff-packing.js';
import { geotiffFrame } from './geotiff-placement.js';

/** The samples of a kind of geodetic TIFF, by their names, and what a unit of each is in ours. */
export interface ComponentKind {
  /** What TYPE says. */
  readonly type: string;
  /** What the file holds, for people. */
  readonly words: string;
  readonly samples: readonly string[];
  /** Ours in one of the file's, by UNITTYPE. */
  readonly units: Readonly<Record<string, number>>;
  /** The unit where the file names none. */
  readonly unit: string;
}

/** Levels of each component, finest first, and the system they are given in. */
export interface ComponentLevels {
  readonly frame: string | null;
  /** In the order of the kind's samples. */
  readonly levels: readonly (readonly GridLevel[])[];
}

/**
 * Reads a geodetic TIFF whose samples are components of one thing, such as velocities east, north and up.
 * Given: the file's bytes; the kind. Problems: those of `readGeotiffImage`; grid-unreadable where the TIFF is damaged;
 * grid-unsupported for another TYPE, a sample that is missing, units that are not known, and a scale, offset or no-data value that is no number.
 * Reference: GTG, "TYPE", "DESCRIPTION", "UNITTYPE", "OFFSET", "SCALE".
 */
export async function readGeotiffComponents(
  bytes: Uint8Array,
  kind: ComponentKind,
  reading: GridReading,
): Promise<Outcome<ComponentLevels>> {
  try {
    const images = await openGeotiffImages(bytes, reading);
    if (!images.ok) return images;
    const first = images.value[0];
    if (first === undefined) throw new InternalError('a TIFF that was opened has no image');
    const levels: GridLevel[][] = kind.samples.map(() => []);
    for (const image of images.value) {
      const read = await componentsOf(image, first, kind, bytes, reading);
      if (!read.ok) return read;
      for (const [index, level] of read.value.entries()) levels[index]?.push(level);
    }
    for (const list of levels) list.sort((a, b) => cell(a) - cell(b));
    return success({ frame: geotiffFrame(first), levels });
  } catch (error) {
    if (error instanceof InternalError || reading.signal?.aborted === true) throw error;
    return failure(
      errorProblem('grid-unreadable', {
        message: `the file is not a TIFF that can be decoded (${error instanceof Error ? error.message : 'unknown'})`,
      }),
    );
  }
}

async function componentsOf(
  image: GeoTIFFImage,
  first: GeoTIFFImage,
  kind: ComponentKind,
  bytes: Uint8Array,
  reading: GridReading,
): Promise<Outcome<readonly GridLevel[]>> {
  const source = image.fileDirectory.hasTag('GDAL_METADATA') ? image : first;
  const metadata = await metadataOfImage(source);
  const ofFirst = source === first ? metadata : await metadataOfImage(first);
  const type = metadata(null)['TYPE'] ?? ofFirst(null)['TYPE'] ?? 'not stated';
  if (type !== kind.type) return unsupported(kind, `the grid is of type ${type}`, kind.type);
  const count = image.getSamplesPerPixel();
  const found: GridLevel[] = [];
  for (const name of kind.samples) {
    let index = 0;
    while (index < count && metadata(index)['DESCRIPTION'] !== name) index += 1;
    if (index === count) return unsupported(kind, `it has no sample ${name}`, kind.samples.join(', '));
    const unitName = metadata(index)['UNITTYPE'] ?? kind.unit;
    const unit = ownEntry(kind.units, unitName);
    if (unit === undefined)
      return unsupported(kind, `the unit of ${name} is ${unitName}`, Object.keys(kind.units).join(', '));
    const packing = await geotiffPackingOf(image, metadata(index));
    if ('message' in packing) return unsupported(kind, `${name}: ${packing.message}`, packing.expected);
    const sample = { ...packing, index, metresPerUnit: unit, isStated: true };
    const level = await readGeotiffImage(image, sample, bytes, reading);
    if (!level.ok) return level;
    found.push(level.value);
  }
  return success(found);
}

function cell(level: GridLevel): number {
  return level.latitudeStepDeg * level.longitudeStepDeg;
}

function unsupported(kind: ComponentKind, message: string, expected: string): Outcome<never> {
  return failure(
    errorProblem('grid-unsupported', {
      message: `the TIFF does not hold ${kind.words} that can be used: ${message}`,
      expected,
    }),
  );
}
