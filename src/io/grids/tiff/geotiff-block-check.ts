import { inflateSync } from 'node:zlib';
import { lzwFault } from './lzw-fault.js';
import { entryAt } from '../../../records/present.js';

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
 * Notes: deflate is unpacked with a bound; the codes of LZW and the runs of PackBits are walked
 * without unpacking; a Zstandard frame has to state its size.
 */
export function blockFault(compression: number, block: Uint8Array, expectedBytes: number): string | null {
  // Some writers pad the last strip of an image to full height, or a block by a byte: twice is room enough.
  const bound = 2 * expectedBytes + 1024;
  if (compression === NONE) return block.byteLength < 1 ? 'is empty' : null;
  if (compression === LZW) return lzwFault(block, bound);
  if (compression === PACK_BITS) return packBitsFault(block, bound);
  if (compression === ZSTANDARD) return zstandardFault(block, bound);
  try {
    inflateSync(block, { maxOutputLength: bound });
    return null;
  } catch (error) {
    const tooLong =
      error instanceof RangeError ||
      (error instanceof Error && 'code' in error && error.code === 'ERR_BUFFER_TOO_LARGE');
    return tooLong ? 'unpacks to more than its size' : 'is damaged';
  }
}

/** Walks the runs of PackBits (TIFF 6.0, section 9, from memory): a count, then a byte to repeat or bytes to copy. */
function packBitsFault(block: Uint8Array, bound: number): string | null {
  let total = 0;
  let at = 0;
  while (at < block.byteLength) {
    // A block that ends here is refused by what it should hold.
    const header = block[at] ?? 0;
    // 128 means "nothing follows"; the decoder of geotiff 3.0.5 takes it as a run.
    if (header === 128) return 'is damaged';
    const count = header < 128 ? header + 1 : 257 - header;
    at += header < 128 ? 1 + count : 2;
    total += count;
  }
  if (at > block.byteLength) return 'is damaged';
  return total > bound ? 'unpacks to more than its size' : null;
}

/** Reads the frame header (RFC 8878, section 3.1.1.1) for the stated size. */
function zstandardFault(block: Uint8Array, bound: number): string | null {
  if (block.byteLength < 14) return 'is damaged';
  const view = new DataView(block.buffer, block.byteOffset, block.byteLength);
  if (view.getUint32(0, true) !== 0xfd2fb528) return 'is damaged';
  const descriptor = view.getUint8(4);
  const sizeFlag = descriptor >> 6;
  const singleSegment = (descriptor >> 5) & 1;
  const dictionaryBytes = entryAt([0, 1, 2, 4], descriptor & 3);
  const at = 5 + (singleSegment === 1 ? 0 : 1) + dictionaryBytes;
  if (sizeFlag === 0 && singleSegment === 0) return 'does not state its size';
  const size =
    sizeFlag === 0
      ? view.getUint8(at)
      : sizeFlag === 1
        ? view.getUint16(at, true) + 256
        : sizeFlag === 2
          ? view.getUint32(at, true)
          : Infinity;
  return size > bound ? 'unpacks to more than its size' : null;
}
