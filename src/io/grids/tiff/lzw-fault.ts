const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;
/** No sound file refers to an entry from here on: writers clear the table before they could. */
const TABLE_END = 4093;

/**
 * Whether a block of TIFF's LZW coding is sound and unpacks to no more than a bound. The codes are
 * walked and only the lengths of their strings kept, so that nothing is unpacked.
 *
 * Given: the block; the largest number of bytes it may unpack to.
 * Returned: null, or what is wrong in words.
 * Notes: a code beyond the table makes the decoder of geotiff 3.0.5 run without end, so every code
 * is checked. Reference: TIFF 6.0, section 13 (from memory).
 */
export function lzwFault(block: Uint8Array, bound: number): string | null {
  const lengths = new Uint16Array(TABLE_END + 3).fill(1);
  let next = FIRST_FREE;
  let width = 9;
  /** Length of the string before; 0 just after a clear code, −1 at the start. */
  let previous = -1;
  let total = 0;
  let held = 0;
  let heldBits = 0;
  for (const byte of block) {
    held = ((held << 8) | byte) & 0xffffff;
    heldBits += 8;
    if (heldBits < width) continue;
    const code = (held >> (heldBits - width)) & ((1 << width) - 1);
    heldBits -= width;
    if (code === END) return null;
    if (code === CLEAR) {
      next = FIRST_FREE;
      width = 9;
      previous = 0;
      continue;
    }
    if (previous < 0 || code >= TABLE_END || code > next || (previous === 0 && code > CLEAR)) return 'is damaged';
    const length = code < next ? (lengths[code] ?? 1) : previous + 1;
    total += length;
    if (total > bound) return 'unpacks to more than its size';
    if (previous > 0 && next <= TABLE_END) {
      lengths[next] = previous + 1;
      next += 1;
      if (next + 1 >= 1 << width && width < 12) width += 1;
    }
    previous = length;
  }
  return null;
}
