import type { GeoTIFFImage } from 'geotiff';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { lengthUnitNamed } from '../../../core/numeric/length-units.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { metadataOfImage } from './gdal-metadata.js';

/** Which sample of a TIFF image holds geoid heights, and how a raw number becomes metres. */
export interface GeotiffSample {
  readonly index: number;
  /** N = (offset + scale · raw) · metresPerUnit. */
  readonly scale: number;
  readonly offset: number;
  readonly metresPerUnit: number;
  /** Raw value that stands for no data; null where none is stated. */
  readonly noData: number | null;
  /** False where the file does not say that it holds geoid heights. */
  readonly isStated: boolean;
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
  const type = textOf(metadata(null), 'TYPE') ?? textOf(ofFirst(null), 'TYPE');
  if (type !== null && type !== WANTED_TYPE) return unsupported(`the grid is of type ${type}`, WANTED_TYPE);

  const count = image.getSamplesPerPixel();
  const samples: Items[] = [];
  for (let index = 0; index < count; index += 1) samples.push(metadata(index));
  const descriptions = samples.map((items) => textOf(items, 'DESCRIPTION'));
  const described = descriptions.filter((text) => text !== null);
  const found = descriptions.indexOf(WANTED_SAMPLE);
  if (found < 0 && described.length > 0) return unsupported(`its samples are ${described.join(', ')}`, WANTED_SAMPLE);
  if (found < 0 && count !== 1) return unsupported(`it has ${count} samples without description`, WANTED_SAMPLE);

  const index = Math.max(found, 0);
  const items = samples[index] ?? {};
  const scale = numberOf(items, 'SCALE', 1);
  const offset = numberOf(items, 'OFFSET', 0);
  if (scale === null || offset === null) return unsupported('its scale or offset is not a number', 'decimal numbers');
  const unitName = textOf(items, 'UNITTYPE') ?? 'metre';
  const metresPerUnit = ['m', 'meter', 'metres', 'meters'].includes(unitName)
    ? 1
    : (lengthUnitNamed(unitName)?.metres ?? null);
  if (metresPerUnit === null)
    return unsupported(`its unit is ${unitName}`, 'metre, or a unit of length by its registry name');
  const noDataText = image.fileDirectory.hasTag('GDAL_NODATA')
    ? noDataOf(await image.fileDirectory.loadValue('GDAL_NODATA'))
    : null;
  const noData = noDataText === null ? null : parseDecimal(noDataText);
  if (noDataText !== null && noData === null && noDataText.toLowerCase() !== 'nan') {
    return unsupported(`its no-data value is ${noDataText}`, 'a decimal number or nan');
  }
  return success({ index, scale, offset, metresPerUnit, noData, isStated: type !== null && found >= 0 });
}

function textOf(items: Items, name: string): string | null {
  const value = items[name];
  return value === undefined || value.trim() === '' ? null : value.trim();
}

function numberOf(items: Items, name: string, absent: number): number | null {
  const text = textOf(items, name);
  return text === null ? absent : parseDecimal(text);
}

function noDataOf(value: unknown): string | null {
  const text = typeof value === 'string' ? value.replaceAll('\0', '').trim() : '';
  return text === '' ? null : text;
}

function unsupported(message: string, expected: string): Outcome<never> {
  return failure({
    code: 'grid-unsupported',
    severity: 'error',
    message: `the TIFF does not hold geoid heights that can be used: ${message}`,
    expected,
  });
}
