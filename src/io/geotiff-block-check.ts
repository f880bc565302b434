import { inflateSync } from 'node:zlib';

/** TIFF compression codes: none, LZW, deflate (two codes), PackBits, Zstandard. */
const NONE = 1;
const LZW = 5;
const DEFLATE = [8, 32946];
const PACK_BITS = 32773;
const ZSTANDARD = 50000;

/** Whether grids in this TIFF compression are read: the lossless ones whose blocks can be bounded. */
export function isReadableCompression(compression: number): boolean {
  return [NONE, LZW, ...DEFLATE, PACK_BITS, ZSTANDARD].includes(compression);
}

/**
 * Whether a compressed strip or tile unpacks to no more than it should, found out before it is
 * unpacked for use, so that a few bytes cannot fill the memory.
 *
 * Given: the TIFF compression code; the block's bytes; the bytes that the block's width, height and
 * samples make.
 * Returned: null, or what is wrong in words.
 * Notes: deflate is unpacked with a bound; the lengths of LZW strings are walked without making
 * them; a Zstandard frame has to state its size; PackBits cannot grow more than 64-fold.
 */
export function blockFault(compression: number, block: Uint8Array, expectedBytes: number): string | null {
  // Some writers pad the last strip of an image to full height, or a block by a byte: twice is room enough.
  const bound = 2 * expectedBytes + 1024;
  if (compression === NONE) return block.byteLength < 1 ? 'is empty' : null;
  if (compression === LZW) return lzwLength(block, bound) > bound ? 'unpacks to more than its size' : null;
  if (compression === PACK_BITS) return 64 * block.byteLength > 64 * bound ? 'is larger than its size' : null;
  if (compression === ZSTANDARD) return zstandardFault(block, bound);
  try {
    inflateSync(block, { maxOutputLength: bound });
    return null;
  } catch (error) {
    const tooLong = error instanceof RangeError || (error instanceof Error && 'code' in error && error.code === 'ERR_BUFFER_TOO_LARGE');
    return tooLong ? 'unpacks to more than its size' : 'is damaged';
  }
}

const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;

/** Bytes an LZW block of TIFF unpacks to; stops soon after the bound. Only lengths of strings are kept. */
function lzwLength(block: Uint8Array, bound: number): number {
  const lengths = new Uint16Array(4097).fill(1);
  let next = FIRST_FREE;
  let width = 9;
  let previous = 0;
  let total = 0;
  let held = 0;
  let heldBits = 0;
  for (const byte of block) {
    held = ((held << 8) | byte) & 0xffffff;
    heldBits += 8;
    if (heldBits < width) continue;
    const code = (held >> (heldBits - width)) & ((1 << width) - 1);
    heldBits -= width;
    if (code === END || total > bound) return total;
    if (code === CLEAR) {
      next = FIRST_FREE;
      width = 9;
      previous = 0;
      continue;
    }
    const length = code < next ? (lengths[code] ?? 1) : previous + 1;
    total += length;
    if (previous > 0 && next < 4096) {
      lengths[next] = previous + 1;
      next += 1;
      if (next + 1 >= 1 << width && width < 12) width += 1;
    }
    previous = length;
  }
  return total;
}

/** Reads the frame header (RFC 8878, section 3.1.1.1) for the stated size. */
function zstandardFault(block: Uint8Array, bound: number): string | null {
  if (block.byteLength < 14) return 'is damaged';
  const view = new DataView(block.buffer, block.byteOffset, block.byteLength);
  if (view.getUint32(0, true) !== 0xfd2fb528) return 'is damaged';
  const descriptor = view.getUint8(4);
  const sizeFlag = descriptor >> 6;
  const singleSegment = (descriptor >> 5) & 1;
  const dictionaryBytes = [0, 1, 2, 4][descriptor & 3] ?? 0;
  const at = 5 + (singleSegment === 1 ? 0 : 1) + dictionaryBytes;
  if (sizeFlag === 0 && singleSegment === 0) return 'does not state its size';
  const size =
    sizeFlag === 0 ? view.getUint8(at) : sizeFlag === 1 ? view.getUint16(at, true) + 256 : sizeFlag === 2 ? view.getUint32(at, true) : Infinity;
  return size > bound ? 'unpacks to more than its size' : null;
}
