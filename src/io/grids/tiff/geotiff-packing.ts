import type { GeoTIFFImage } from 'geotiff';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';

/** How the raw numbers of a sample become numbers of its unit: offset + scale · raw. */
export interface GeotiffPacking {
  readonly scale: number;
  readonly offset: number;
  /** Raw value that stands for no data; null where none is stated. */
  readonly noData: number | null;
}

/** Why a packing cannot be used, and what would do. */
export interface GeotiffPackingFault {
  readonly message: string;
  readonly expected: string;
}

type Items = Readonly<Record<string, string>>;

/**
 * How the numbers of a sample are packed.
 * Given: the image; the metadata of the sample. Returned: 1 and 0 where the file states no scale and offset; or what is wrong with them.
 * Reference: GTG, "OFFSET", "SCALE"; GDAL_NODATA is a raw number.
 */
export async function geotiffPackingOf(
  image: GeoTIFFImage,
  items: Items,
): Promise<GeotiffPacking | GeotiffPackingFault> {
  const scale = numberOf(items, 'SCALE', 1);
  const offset = numberOf(items, 'OFFSET', 0);
  if (scale === null || offset === null)
    return { message: 'its scale or offset is not a number', expected: 'decimal numbers' };
  const noDataText = image.fileDirectory.hasTag('GDAL_NODATA')
    ? noDataOf(await image.fileDirectory.loadValue('GDAL_NODATA'))
    : null;
  const noData = noDataText === null ? null : parseDecimal(noDataText);
  if (noDataText !== null && noData === null && noDataText.toLowerCase() !== 'nan')
    return { message: `its no-data value is ${noDataText}`, expected: 'a decimal number or nan' };
  return { scale, offset, noData };
}

/** An entry of the metadata without the blanks around it; null where there is none. */
export function itemText(items: Items, name: string): string | null {
  const value = items[name];
  return value === undefined || value.trim() === '' ? null : value.trim();
}

function numberOf(items: Items, name: string, absent: number): number | null {
  const text = itemText(items, name);
  return text === null ? absent : parseDecimal(text);
}

function noDataOf(value: unknown): string | null {
  const text = typeof value === 'string' ? value.replaceAll('\0', '').trim() : '';
  return text === '' ? null : text;
}
