import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import * as zlib from 'node:zlib';
import { snappyUnpacked } from './snappy-unpack.js';

/** What unpacks a page, by its codec. Given: its bytes; how many it unpacks to. */
export type Unpackers = Readonly<Record<string, (input: Uint8Array, bytes: number) => Uint8Array>>;

/** A page is unpacked whole; writers make pages of one or some MiB. */
const MOST_PAGE_BYTES = 256 << 20;

/** Absent before Node.js 22.15. */
const { zstdDecompressSync } = zlib as {
  zstdDecompressSync?: (input: Uint8Array, options: { readonly maxOutputLength: number }) => Uint8Array;
};

/** Whether pages of a codec can be unpacked. */
export function canUnpack(codec: string | undefined): boolean {
  return codec === 'ZSTD'
    ? zstdDecompressSync !== undefined
    : ['UNCOMPRESSED', 'SNAPPY', 'GZIP', 'BROTLI'].includes(String(codec));
}

/** What unpacks pages; none beyond `MOST_PAGE_BYTES`. */
export function unpackers(): Unpackers {
  const bounded =
    (unpack: (input: Uint8Array, bytes: number) => Uint8Array) =>
    (input: Uint8Array, bytes: number): Uint8Array => {
      if (bytes > MOST_PAGE_BYTES) throw new Error(`a page of ${String(bytes)} bytes`);
      return unpack(input, bytes);
    };
  return {
    SNAPPY: bounded(snappyUnpacked),
    GZIP: bounded((input, bytes) => gunzipSync(input, { maxOutputLength: Math.max(1, bytes) })),
    BROTLI: bounded((input, bytes) => brotliDecompressSync(input, { maxOutputLength: Math.max(1, bytes) })),
    ...(zstdDecompressSync !== undefined && {
      ZSTD: bounded((input, bytes) => zstdDecompressSync(input, { maxOutputLength: Math.max(1, bytes) })),
    }),
  };
}

/** Codecs that pages may be packed with. */
export function codecsRead(): string {
  return `SNAPPY, GZIP, BROTLI, ${zstdDecompressSync === undefined ? '' : 'ZSTD, '}or not packed`;
}
