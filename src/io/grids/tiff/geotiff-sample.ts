import type { GeoTIFFImage } from 'geotiff';
import type { ValueBound } from '../../../core/geoid/grid-level-from.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { metadataOfImage } from './gdal-metadata.js';
import { geotiffPackingOf, itemText } from './geotiff-packing.js';
import type { GeotiffPacking } from './geotiff-packing.js';
import { LENGTHS } from './geotiff-units.js';

/** Which sample of a TIFF image holds the numbers wanted, and how a raw number becomes metres: (offset + scale · raw) · metresPerUnit. */
export interface GeotiffSample extends GeotiffPacking {
  readonly index: number;
  readonly metresPerUnit: number;
  /** False where the file does not say what it holds. */
  readonly isStated: boolean;
  /** How far the numbers may lie from zero; absent: as geoid heights. */
  readonly bound?: ValueBound;
}

type Items = Readonly<Record<string, string>>;

const WANTED_TYPE = 'VERTICAL_OFFSET_GEOGRAPHIC_TO_VERTICAL';
const WANTED_SAMPLE = 'geoid_undulation';

/**
 * Finds the sample of geoid heights in one image of a geodetic TIFF.
 *
 * Given: the image, and the first image of the file, whose metadata stand for an image without any.
 * Returned: the sample with its scale, offset, unit and no-data value.
 * Problems: `grid-unsupported` for another TYPE (such as horizontal offsets), for samples described
 * as something else, for several samples without description, and for a unit that is not known.
 * Reference: PROJ, Geodetic TIFF grids, "TYPE", "DESCRIPTION", "UNITTYPE", "OFFSET", "SCALE".
 */
export async function geotiffSampleOf(image: GeoTIFFImage, first: GeoTIFFImage): Promise<Outcome<GeotiffSample>> {
  const source = image.fileDirectory.hasTag('GDAL_METADATA') ? image : first;
  const metadata = await metadataOfImage(source);
  const ofFirst = source === first ? metadata : await metadataOfImage(first);
  const type = itemText(metadata(null), 'TYPE') ?? itemText(ofFirst(null), 'TYPE');
  if (type !== null && type !== WANTED_TYPE) return unsupported(`the grid is of type ${type}`, WANTED_TYPE);

  const count = image.getSamplesPerPixel();
  const samples: Items[] = [];
  for (let index = 0; index < count; index += 1) samples.push(metadata(index));
  const descriptions = samples.map((items) => itemText(items, 'DESCRIPTION'));
  const described = descriptions.filter((text) => text !== null);
  const found = descriptions.indexOf(WANTED_SAMPLE);
  if (found < 0 && described.length > 0) return unsupported(`its samples are ${described.join(', ')}`, WANTED_SAMPLE);
  if (found < 0 && count !== 1) return unsupported(`it has ${count} samples without description`, WANTED_SAMPLE);

  const index = Math.max(found, 0);
  const items = samples[index] ?? {};
  const packing = await geotiffPackingOf(image, items);
  if ('message' in packing) return unsupported(packing.message, packing.expected);
  const unitName = itemText(items, 'UNITTYPE') ?? LENGTHS.absent;
  const metresPerUnit = LENGTHS.factorOf(unitName);
  if (metresPerUnit === null) return unsupported(`its unit is ${unitName}`, LENGTHS.words);
  return success({ ...packing, index, metresPerUnit, isStated: type !== null && found >= 0 });
}

function unsupported(message: string, expected: string): Outcome<never> {
  return failure({
    code: 'grid-unsupported',
    severity: 'error',
    message: `the TIFF does not hold geoid heights that can be used: ${message}`,
    expected,
  });
}
