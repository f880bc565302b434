import type { AsyncBuffer, RowGroup, SchemaElement } from 'hyparquet';
import { faultOfPages } from './parquet-pages.js';
import { unpackers } from './parquet-unpack.js';

/**
 * What the pages of a row group say of themselves that cannot be; null: nothing.
 * Given: the bytes of the file, any part at a time; the group; the columns of its table; its rows. What `bytes` and unpacking throw passes through.
 */
export async function faultOfGroup(
  bytes: AsyncBuffer,
  { columns }: RowGroup,
  schema: readonly SchemaElement[],
  rows: number,
): Promise<string | null> {
  const unpack = unpackers();
  for (const [index, { meta_data: meta }] of columns.entries()) {
    if (meta === undefined) continue;
    const { dictionary_page_offset: dictionary, data_page_offset: data } = meta;
    // Some writers give a file without a dictionary the offset 0.
    const from = Number(dictionary !== undefined && dictionary > 0n && dictionary < data ? dictionary : data);
    const to = from + Number(meta.total_compressed_size);
    if (!(from >= 0 && to >= from && to <= bytes.byteLength))
      return `a column from byte ${String(from)} to ${String(to)} of ${String(bytes.byteLength)}`;
    const fault = faultOfPages({
      bytes: new Uint8Array(await bytes.slice(from, to)),
      rows,
      unpackedBytes: Number(meta.total_uncompressed_size),
      isOptional: schema[index]?.repetition_type === 'OPTIONAL',
      isBoolean: meta.type === 'BOOLEAN',
      // What is not packed stays as it is.
      unpack: unpack[meta.codec] ?? ((input) => input),
    });
    if (fault !== null) return `${fault} (${meta.path_in_schema.join('.')})`;
  }
  return null;
}
