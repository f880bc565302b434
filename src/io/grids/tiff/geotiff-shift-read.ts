import { ownEntry } from '../../../core/numeric/own-entry.js';
import type { GeoTIFFImage } from 'geotiff';
import type { GridShiftLevel } from '../../../core/grid/plane/grid-shift.js';
import { InternalError } from '../../../records/internal-error.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { metadataOfImage } from './gdal-metadata.js';
import { openGeotiffImages } from './geotiff-grid-read.js';
import { geotiffPackingOf } from './geotiff-packing.js';
import { readGeotiffImage } from './geotiff-image.js';
import type { GeotiffSample } from './geotiff-sample.js';
import { DEFAULT_GRID_READING } from '../grid-reading.js';
import type { GridReading } from '../grid-reading.js';
import type { Ntv2Content } from '../ntv2-read.js';

type Items = Readonly<Record<string, string>>;

const WANTED_TYPE = 'HORIZONTAL_OFFSET';
/** Seconds of arc in a unit, by the name a file gives it. */
const UNITS: Readonly<Record<string, number>> = {
  'arc-second': 1,
  'arc-seconds per year': Number.NaN,
  degree: 3600,
  radian: (180 / Math.PI) * 3600,
};

/**
 * Reads a geodetic TIFF of horizontal offsets as grids of shifts.
 *
 * Given: the file's bytes. Returned: one grid for each image.
 * Problems: those of `readGeotiffImage`; grid-unreadable where the TIFF is damaged; grid-unsupported
 * for another TYPE, samples that are not called latitude_offset and longitude_offset, longitudes
 * positive west without saying so, units that are not known, and a scale, offset or no-data value that is no number.
 * Reference: GTG, "TYPE", "DESCRIPTION", "UNITTYPE", "OFFSET", "SCALE", "positive_value".
 */
export async function readGeotiffShift(
  bytes: Uint8Array,
  reading: GridReading = DEFAULT_GRID_READING,
): Promise<Outcome<Ntv2Content>> {
  try {
    const images = await openGeotiffImages(bytes, reading);
    if (!images.ok) return images;
    const levels: GridShiftLevel[] = [];
    for (const image of images.value) {
      const level = await levelOf(image, images.value[0] ?? image, bytes, reading);
      if (!level.ok) return level;
      levels.push(level.value);
    }
    return success({ levels, fromName: null, toName: null });
  } catch (error) {
    if (error instanceof InternalError || reading.signal?.aborted === true) throw error;
    return failure(
      errorProblem('grid-unreadable', {
        message: `the file is not a TIFF that can be decoded (${error instanceof Error ? error.message : 'unknown'})`,
      }),
    );
  }
}

async function levelOf(
  image: GeoTIFFImage,
  first: GeoTIFFImage,
  bytes: Uint8Array,
  reading: GridReading,
): Promise<Outcome<GridShiftLevel>> {
  const source = image.fileDirectory.hasTag('GDAL_METADATA') ? image : first;
  const metadata = await metadataOfImage(source);
  const ofFirst = source === first ? metadata : await metadataOfImage(first);
  const type = ofFirst(null)['TYPE'] ?? 'not stated';
  if (type !== WANTED_TYPE) return unsupported(`the grid is of type ${type}`, WANTED_TYPE);
  const samples: Items[] = [];
  for (let index = 0; index < image.getSamplesPerPixel(); index += 1) samples.push(metadata(index));
  const found: Float32Array[] = [];
  let shape: Omit<GridShiftLevel, 'latitudeArcsec' | 'longitudeArcsec'> | null = null;
  for (const name of ['latitude_offset', 'longitude_offset']) {
    const index = samples.findIndex((items) => items['DESCRIPTION'] === name);
    if (index < 0) return unsupported(`it has no sample ${name}`, 'samples latitude_offset and longitude_offset');
    const items = samples[index] ?? {};
    const unit = ownEntry(UNITS, items['UNITTYPE'] ?? 'arc-second') ?? Number.NaN;
    if (!Number.isFinite(unit))
      return unsupported(`the unit of ${name} is ${String(items['UNITTYPE'])}`, 'arc-second, degree or radian');
    const packing = await geotiffPackingOf(image, items);
    if ('message' in packing) return unsupported(`${name}: ${packing.message}`, packing.expected);
    const east = items['positive_value'] === 'west' ? -1 : 1;
    const sample: GeotiffSample = {
      index,
      scale: east * packing.scale,
      offset: east * packing.offset,
      noData: packing.noData,
      metresPerUnit: 1,
      isStated: true,
    };
    const level = await readGeotiffImage(image, sample, bytes, reading);
    if (!level.ok) return level;
    const { southDeg, westDeg, latitudeStepDeg, longitudeStepDeg, rows, columns, values } = level.value;
    shape = { southDeg, westDeg, latitudeStepDeg, longitudeStepDeg, rows, columns };
    // The reader's own bound on a node, 200, is a bound on seconds or degrees here: no datum lies farther.
    found.push(Float32Array.from(values, (node) => node * unit));
  }
  const [latitudeArcsec, longitudeArcsec] = found;
  if (shape === null || latitudeArcsec === undefined || longitudeArcsec === undefined)
    throw new InternalError('a grid of shifts has no samples');
  return success({ ...shape, latitudeArcsec, longitudeArcsec });
}

function unsupported(message: string, expected: string): Outcome<never> {
  return failure(
    errorProblem('grid-unsupported', {
      message: `the TIFF does not hold horizontal shifts that can be used: ${message}`,
      expected,
    }),
  );
}
