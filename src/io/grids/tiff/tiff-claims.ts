import type { ProblemCode } from '../../../records/codes/problem-codes.js';

/** Samples a pixel of a grid may have: published grids have up to six. */
const MAXIMUM_SAMPLES = 16;
/** Tags a directory may have: grids have some twenty. */
const MAXIMUM_TAGS = 256;
const MAXIMUM_IMAGES = 10_000;
/** The largest text of metadata, bytes. */
const MAXIMUM_METADATA_BYTES = 65_536;

const SAMPLES_PER_PIXEL = 277;
const GDAL_METADATA = 42112;
/** Bytes of a value of each field type; TIFF 6.0 section 2 (from memory) and BigTIFF's 16 to 18. */
const TYPE_BYTES: readonly number[] = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];

/** What is wrong with what a TIFF asks for. */
export interface TiffFault {
  readonly code: ProblemCode;
  readonly message: string;
}

/** How numbers stand in a TIFF, and where: classic, or with 8-byte offsets. */
interface Form {
  readonly view: DataView;
  readonly little: boolean;
  readonly isBig: boolean;
}

/**
 * Looks at what the directories of a TIFF claim, before a decoder takes memory for any of it.
 *
 * Given: the whole file. Returned: null, or what is claimed beyond reason: a directory outside the file or met twice, more
 * images, tags or samples than a grid has, metadata longer than 64 KiB, arrays outside the file, or arrays that together
 * are larger than the file, as they are where thousands of tags name the same bytes.
 * Reference: TIFF 6.0, section 2, the directory of twelve-byte entries; BigTIFF, entries of twenty bytes (from memory).
 */
export function tiffClaimsFault(file: Uint8Array): TiffFault | null {
  const form = formOf(file);
  if (form === null) return bad('the file does not begin as a TIFF');
  const seen = new Set<number>();
  let arrayBytes = 0;
  let at = offsetAt(form, form.isBig ? 8 : 4);
  while (at !== 0) {
    if (seen.has(at)) return bad('the list of images of the TIFF does not end');
    seen.add(at);
    if (seen.size > MAXIMUM_IMAGES) return bad(`the TIFF has more than ${MAXIMUM_IMAGES} images`);
    const directory = directoryAt(form, at);
    if (directory === null) return bad('a directory of the TIFF lies beyond the end of the file');
    if (directory.tags > MAXIMUM_TAGS)
      return bad(`a directory of the TIFF has ${directory.tags} tags, more than ${MAXIMUM_TAGS}`);
    for (let index = 0; index < directory.tags; index += 1) {
      const entry = directory.first + index * directory.entryBytes;
      const bytes = arrayBytesAt(form, entry);
      if (typeof bytes !== 'number') return bytes;
      arrayBytes += bytes;
      if (arrayBytes > file.byteLength) return bad('the arrays of the TIFF are larger than the file');
    }
    at = directory.next;
  }
  return null;
}

function formOf(file: Uint8Array): Form | null {
  if (file.byteLength < 16) return null;
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const order = view.getUint16(0, false);
  if (order !== 0x4949 && order !== 0x4d4d) return null;
  const little = order === 0x4949;
  const magic = view.getUint16(2, little);
  return magic === 42 || magic === 43 ? { view, little, isBig: magic === 43 } : null;
}

function offsetAt({ view, little, isBig }: Form, at: number): number {
  return isBig ? Number(view.getBigUint64(at, little)) : view.getUint32(at, little);
}

/** Null where it does not lie in the file whole. */
function directoryAt(
  form: Form,
  at: number,
): { readonly first: number; readonly entryBytes: number; readonly tags: number; readonly next: number } | null {
  const { view, little, isBig } = form;
  const countBytes = isBig ? 8 : 2;
  const entryBytes = isBig ? 20 : 12;
  if (!(at + countBytes <= view.byteLength)) return null;
  const tags = isBig ? Number(view.getBigUint64(at, little)) : view.getUint16(at, little);
  const first = at + countBytes;
  const end = first + tags * entryBytes;
  if (!(end + (isBig ? 8 : 4) <= view.byteLength))
    return tags > MAXIMUM_TAGS ? { first, entryBytes, tags, next: 0 } : null;
  return { first, entryBytes, tags, next: offsetAt(form, end) };
}

/** Bytes of an entry's values that stand outside it, 0 where they stand in it; or what is wrong with them. */
function arrayBytesAt(form: Form, entry: number): number | TiffFault {
  const { view, little, isBig } = form;
  const tag = view.getUint16(entry, little);
  const type = view.getUint16(entry + 2, little);
  const count = isBig ? Number(view.getBigUint64(entry + 4, little)) : view.getUint32(entry + 4, little);
  const valueAt = entry + (isBig ? 12 : 8);
  // A type that is not known has no size, and claims nothing.
  const bytes = count * (TYPE_BYTES[type] ?? 0);
  if (tag === GDAL_METADATA && bytes > MAXIMUM_METADATA_BYTES)
    return bad(`the metadata of the TIFF are ${bytes} bytes, more than ${MAXIMUM_METADATA_BYTES}`);
  if (tag === SAMPLES_PER_PIXEL) {
    const samples = type === 3 ? view.getUint16(valueAt, little) : view.getUint32(valueAt, little);
    if (samples > MAXIMUM_SAMPLES)
      return {
        code: 'grid-unsupported',
        message: `the TIFF has ${samples} samples a pixel, more than ${MAXIMUM_SAMPLES}`,
      };
  }
  if (bytes <= (isBig ? 8 : 4)) return 0;
  const offset = offsetAt(form, valueAt);
  return offset + bytes <= view.byteLength ? bytes : bad(`tag ${tag} of the TIFF lies beyond the end of the file`);
}

function bad(message: string): TiffFault {
  return { code: 'grid-unreadable', message };
}
