const POLYNOMIAL = 0x1864cfb;
const TABLE: readonly number[] = Array.from({ length: 256 }, (_, byte) => {
  let crc = byte << 16;
  for (let bit = 0; bit < 8; bit += 1) crc = (crc << 1) ^ (crc & 0x800000 ? POLYNOMIAL : 0);
  return crc & 0xffffff;
});

/**
 * The check of 24 bits that ends a frame: polynomial 0x1864CFB, from 0, nothing reflected, nothing added at the end.
 * Given: bytes, and which of them (`to` is the first that no longer belongs). Of a frame with its check it is 0.
 * Reference: RTCM-10403, the check of a frame; catalogue value of "123456789" CDE703.
 */
export function crc24q(bytes: Uint8Array, from: number = 0, to: number = bytes.length): number {
  let crc = 0;
  for (let i = from; i < to; i += 1) {
    // Both places are within their lists: a byte has 256 values.
    crc = ((crc << 8) & 0xffffff) ^ (TABLE[(crc >>> 16) ^ (bytes[i] as number)] as number);
  }
  return crc;
}
