import type { GeoTIFFImage } from 'geotiff';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';

/** One entry of the metadata of a geodetic TIFF: of the whole image, or of one of its samples. */
interface MetadataItem {
  readonly name: string;
  /** From 0; null: of the whole image. */
  readonly sample: number | null;
  readonly text: string;
}

/** The entries by name, of the whole image (null) or of a sample. */
export type MetadataOf = (sample: number | null) => Readonly<Record<string, string>>;

const ENTITIES: ReadonlyMap<string, string> = new Map([
  ['&lt;', '<'],
  ['&gt;', '>'],
  ['&amp;', '&'],
  ['&quot;', '"'],
  ['&apos;', "'"],
]);

/**
 * Reads the metadata text of a geodetic TIFF, `<GDALMetadata><Item name="…" sample="…">…</Item>…</GDALMetadata>`, once and from
 * front to back, whatever it is.
 *
 * Given: the text of tag 42112. Returned: its items by sample; of two with one name the last. What is no item is passed over.
 * Reference: GTG (PROJ, Geodetic TIFF grids, "TYPE", "DESCRIPTION"); the decoder's own parser takes time with the square of
 * the text.
 */
export function gdalMetadata(text: string): MetadataOf {
  const bySample = new Map<number | null, Record<string, string>>();
  for (const { name, sample, text: value } of items(text)) {
    const known = bySample.get(sample) ?? (Object.create(null) as Record<string, string>);
    bySample.set(sample, known);
    known[name] = value;
  }
  return (sample) => bySample.get(sample) ?? {};
}

/** The metadata of an image; none where it has none. The text was bounded by `tiffClaimsFault`. */
export async function metadataOfImage(image: GeoTIFFImage): Promise<MetadataOf> {
  const text: unknown = image.fileDirectory.hasTag('GDAL_METADATA')
    ? await image.fileDirectory.loadValue('GDAL_METADATA')
    : '';
  return gdalMetadata(typeof text === 'string' ? text : '');
}

function* items(text: string): Generator<MetadataItem> {
  let at = text.indexOf('<Item');
  while (at >= 0) {
    const headEnd = text.indexOf('>', at);
    const close = headEnd < 0 ? -1 : text.indexOf('</Item', headEnd);
    if (close < 0) return;
    const head = text.slice(at + 5, headEnd);
    const name = attribute(head, 'name');
    const sample = attribute(head, 'sample');
    const index = sample === null ? null : parseDecimal(sample);
    if (name !== null && (sample === null || index !== null))
      yield { name: plain(name), sample: index, text: plain(text.slice(headEnd + 1, close)) };
    at = text.indexOf('<Item', close);
  }
}

/** The value of an attribute in the inside of a tag, in either quotes; null where it is not there. */
function attribute(head: string, name: string): string | null {
  const at = head.indexOf(` ${name}=`);
  if (at < 0) return null;
  // Where the tag ends there is no quote.
  const quote = head[at + name.length + 2] ?? '';
  if (quote !== '"' && quote !== "'") return null;
  const from = at + name.length + 3;
  const to = head.indexOf(quote, from);
  return to < 0 ? null : head.slice(from, to);
}

function plain(text: string): string {
  return text.replace(/&[a-z]{2,4};/gu, (entity) => ENTITIES.get(entity) ?? entity);
}
