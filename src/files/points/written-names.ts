import type { OutputFormat } from './points-writer.js';

/** Names that a GeoJSON file of ours has beside its columns: in its geometry, and once more with every feature. */
const GEOJSON_NAMES: readonly string[] = [
  'latitude_deg',
  'longitude_deg',
  'ellipsoidal_height_m',
  'frame',
  'frame_epoch_year',
  'system',
];

/** Every name that a file of these columns gives a meaning to: columns of the input may have none of them. */
export function writtenNames(format: OutputFormat, columns: readonly { readonly name: string }[]): readonly string[] {
  return [...columns.map(({ name }) => name), ...(format === 'geojson' ? GEOJSON_NAMES : [])];
}
