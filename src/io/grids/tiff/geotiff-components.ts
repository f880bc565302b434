import type { GeoTIFFImage } from 'geotiff';
import type { GridLevel } from '../../../core/geoid/geoid-grid.js';
import type { ValueBound } from '../../../core/geoid/grid-level-from.js';
import { InternalError } from '../../../records/internal-error.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { GridReading } from '../grid-reading.js';
import { metadataOfImage } from './gdal-metadata.js';
import type { MetadataOf } from './gdal-metadata.js';
import { openGeotiffImages } from './geotiff-grid-read.js';
import { readGeotiffImage } from './geotiff-image.js';
import { geotiffPackingOf, itemText } from './geotiff-packing.js';
import { geotiffFrame } from './geotiff-placement.js';
import type { SampleUnits } from './geotiff-units.js';

/** One sample of a kind of geodetic TIFF. */
export interface ComponentSample {
  /** What DESCRIPTION says. */
  readonly name: string;
  readonly units: SampleUnits;
  /** In our unit. */
  readonly bound: ValueBound;
}

/** A kind of geodetic TIFF: what TYPE says, and the samples it has to have. */
export interface ComponentKind {
  readonly type: string;
  readonly samples: readonly ComponentSample[];
}

/** Levels of each component, finest first, and what the file says of itself. */
export interface ComponentLevels {
  readonly type: string;
  /** The system of the places, of the keys of the first image. */
  readonly frame: string | null;
  /** In the order of the kind's samples. */
  readonly levels: readonly (readonly GridLevel[])[];
  /** The metadata of the first image as a whole. */
  readonly itemOf: (name: string) => string | null;
}

/**
 * Reads a geodetic TIFF whose samples are components of one thing, such as velocities east, north and up.
 * Given: the file's bytes; the kinds that would do, and what they are in words. Problems: those of `readGeotiffImage`;
 * grid-unreadable where the TIFF is damaged; grid-unsupported for another TYPE, a sample that is missing, units that are not
 * known, and a scale, offset or no-data value that is no number.
 * Reference: GTG, "TYPE", "DESCRIPTION", "UNITTYPE", "OFFSET", "SCALE", "positive_value".
 */
export async function readGeotiffComponents(
  bytes: Uint8Array,
  kinds: readonly ComponentKind[],
  words: string,
  reading: GridReading,
): Promise<Outcome<ComponentLevels>> {
  try {
    const images = await openGeotiffImages(bytes, reading);
    if (!images.ok) return images;
    const first = images.value[0];
    if (first === undefined) throw new InternalError('a TIFF that was opened has no image');
    const ofFirst = await metadataOfImage(first);
    const type = itemText(ofFirst(null), 'TYPE') ?? 'not stated';
    const kind = kinds.find((known) => known.type === type);
    if (kind === undefined) return wrongType(words, type, kinds);
    const levels: GridLevel[][] = kind.samples.map(() => []);
    for (const image of images.value) {
      const metadata = image.fileDirectory.hasTag('GDAL_METADATA') ? await metadataOfImage(image) : ofFirst;
      const own = itemText(metadata(null), 'TYPE') ?? type;
      if (own !== type) return unsupported(words, `one of its grids is of type ${own}`, type);
      const read = await componentsOf(image, metadata, kind, words, bytes, reading);
      if (!read.ok) return read;
      for (const [index, level] of read.value.entries()) levels[index]?.push(level);
    }
    for (const list of levels) list.sort((a, b) => cell(a) - cell(b));
    return success({
      type,
      frame: geotiffFrame(first),
      levels,
      itemOf: (name) => itemText(ofFirst(null), name),
    });
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
  metadata: MetadataOf,
  kind: ComponentKind,
  words: string,
  bytes: Uint8Array,
  reading: GridReading,
): Promise<Outcome<readonly GridLevel[]>> {
  const count = image.getSamplesPerPixel();
  const found: GridLevel[] = [];
  for (const { name, units, bound } of kind.samples) {
    let index = 0;
    while (index < count && itemText(metadata(index), 'DESCRIPTION') !== name) index += 1;
    if (index === count)
      return unsupported(words, `it has no sample ${name}`, kind.samples.map((sample) => sample.name).join(', '));
    const items = metadata(index);
    const unitName = itemText(items, 'UNITTYPE') ?? units.absent;
    const unit = units.factorOf(unitName);
    if (unit === null) return unsupported(words, `the unit of ${name} is ${unitName}`, units.words);
    const packing = await geotiffPackingOf(image, items);
    if ('message' in packing) return unsupported(words, `${name}: ${packing.message}`, packing.expected);
    const east = itemText(items, 'positive_value') === 'west' ? -1 : 1;
    const sample = { ...packing, index, metresPerUnit: east * unit, isStated: true, bound };
    const level = await readGeotiffImage(image, sample, bytes, reading);
    if (!level.ok) return level;
    found.push(level.value);
  }
  return success(found);
}

function cell(level: GridLevel): number {
  return level.latitudeStepDeg * level.longitudeStepDeg;
}

/** What the other kinds of geodetic TIFF are for here. */
const USED_WITH: ReadonlyMap<string, string> = new Map([
  ['VERTICAL_OFFSET_GEOGRAPHIC_TO_VERTICAL', 'geoid heights are named with --geoid'],
  ['VELOCITY', 'velocities are named with --velocity-grid'],
  ['HORIZONTAL_OFFSET', 'shifts of latitude and longitude are named with --shift'],
  ['GEOGRAPHIC_3D_OFFSET', 'shifts of latitude, longitude and height are named with --shift'],
  ['ELLIPSOIDAL_HEIGHT_OFFSET', 'offsets of ellipsoidal heights are named with --shift'],
  ['GEOCENTRIC_TRANSLATION', 'translations along X, Y, Z are named with --shift'],
  ['VERTICAL_OFFSET_VERTICAL_TO_VERTICAL', 'offsets between heights are named with --shift'],
]);

function wrongType(words: string, type: string, kinds: readonly ComponentKind[]): Outcome<never> {
  const hint = USED_WITH.get(type);
  return failure(
    errorProblem('grid-unsupported', {
      message: `the TIFF does not hold ${words} that can be used: the grid is of type ${type}`,
      expected: kinds.map((kind) => kind.type).join(', '),
      ...(hint !== undefined && { hint }),
    }),
  );
}

function unsupported(words: string, message: string, expected: string): Outcome<never> {
  return failure(
    errorProblem('grid-unsupported', {
      message: `the TIFF does not hold ${words} that can be used: ${message}`,
      expected,
    }),
  );
}
