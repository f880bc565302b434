import { deflateSync } from 'node:zlib';
import { lzwBytes } from './lzw-bytes.js';

export type TiffCoding = 'none' | 'lzw' | 'deflate' | 'packbits' | 'zstandard' | 'jpeg';

/** One image of a TIFF for tests. `samples` hold the rows from north to south, each from west to east, one list per sample. */
export interface TiffImageFixture {
  readonly width: number;
  readonly height: number;
  readonly samples: readonly (readonly number[])[];
  /** 'float32' unless stated. */
  readonly kind?: 'float32' | 'float64' | 'int16' | 'uint16' | 'int32';
  readonly coding?: TiffCoding;
  readonly predictor?: 1 | 2 | 3;
  /** Square tiles of this size; strips of two rows otherwise. */
  readonly tile?: number;
  readonly tiePoint?: readonly number[];
  readonly pixelScale?: readonly number[];
  readonly geoKeys?: Readonly<Record<number, number>>;
  readonly metadata?: string;
  readonly noData?: string;
  readonly subfileType?: number;
  /** Each sample in blocks of its own. */
  readonly planar?: boolean;
  /** Changes a compressed block. */
  readonly damage?: (block: Buffer, index: number) => Buffer;
}

const KINDS = { float32: [4, 3], float64: [8, 3], int16: [2, 2], uint16: [2, 1], int32: [4, 2] } as const;
const CODINGS: Readonly<Record<TiffCoding, number>> = {
  none: 1,
  lzw: 5,
  jpeg: 7,
  deflate: 8,
  packbits: 32773,
  zstandard: 50000,
};

/** Keys of a grid of points in EPSG:4979's two-dimensional system. */
export const POINT_KEYS: Readonly<Record<number, number>> = { 1024: 2, 1025: 2, 2048: 4326 };
export const AREA_KEYS: Readonly<Record<number, number>> = { 1024: 2, 1025: 1, 2048: 4326 };

/** Metadata of a grid of geoid heights, with more items of sample 0 where given. */
export function geoidMetadata(
  type = 'VERTICAL_OFFSET_GEOGRAPHIC_TO_VERTICAL',
  description = 'geoid_undulation',
  more = '',
): string {
  return `<GDALMetadata><Item name="TYPE">${type}</Item><Item name="DESCRIPTION" sample="0" role="description">${description}</Item>${more}</GDALMetadata>`;
}

/** The bytes of a TIFF file of the images, little-endian unless asked otherwise. */
export function tiffBytes(images: readonly TiffImageFixture[], littleEndian = true): Buffer {
  const parts: Buffer[] = [Buffer.alloc(8)];
  let length = 8;
  const append = (part: Buffer): number => {
    const at = length;
    const padded = part.length % 2 === 0 ? part : Buffer.concat([part, Buffer.alloc(1)]);
    parts.push(padded);
    length += padded.length;
    return at;
  };
  const links: number[] = [];
  for (const image of images) {
    const blocks = blocksOf(image, littleEndian).map((block, index) => image.damage?.(block, index) ?? block);
    const offsets = blocks.map(append);
    const tags = tagsOf(
      image,
      offsets,
      blocks.map((block) => block.length),
    );
    const directory = Buffer.alloc(2 + 12 * tags.length + 4);
    put(directory, 0, 2, tags.length, littleEndian);
    for (const [index, [tag, type, values]] of tags.entries()) {
      const data = packed(type, values, littleEndian);
      const at = 2 + 12 * index;
      put(directory, at, 2, tag, littleEndian);
      put(directory, at + 2, 2, type, littleEndian);
      put(directory, at + 4, 4, type === 2 ? data.length : (values as readonly number[]).length, littleEndian);
      if (data.length <= 4) data.copy(directory, at + 8);
      else put(directory, at + 8, 4, append(data), littleEndian);
    }
    links.push(append(directory));
    links.push(length - 4);
  }
  const file = Buffer.concat(parts);
  file.write(littleEndian ? 'II' : 'MM', 0, 'latin1');
  put(file, 2, 2, 42, littleEndian);
  let link = 4;
  for (let index = 0; index < links.length; index += 2) {
    put(file, link, 4, links[index]!, littleEndian);
    link = links[index + 1]!;
  }
  return file;
}

type Tag = readonly [tag: number, type: 2 | 3 | 4 | 12, values: readonly number[] | string];

function tagsOf(image: TiffImageFixture, offsets: readonly number[], counts: readonly number[]): Tag[] {
  const [bytes, format] = KINDS[image.kind ?? 'float32'];
  const keys = Object.entries(image.geoKeys ?? POINT_KEYS).map(([key, value]) => [Number(key), 0, 1, value]);
  const tags: Tag[] = [
    [254, 4, [image.subfileType ?? 0]],
    [256, 4, [image.width]],
    [257, 4, [image.height]],
    [258, 3, image.samples.map(() => 8 * bytes)],
    [259, 3, [CODINGS[image.coding ?? 'none']]],
    [262, 3, [1]],
    [277, 3, [image.samples.length]],
    [284, 3, [image.planar === true ? 2 : 1]],
    [317, 3, [image.predictor ?? 1]],
    [339, 3, image.samples.map(() => format)],
    [33550, 12, image.pixelScale ?? [1, 1, 0]],
    [33922, 12, image.tiePoint ?? [0, 0, 0, 4, 55, 0]],
    [34735, 3, [1, 1, 1, keys.length, ...keys.flat()]],
  ];
  if (image.tile === undefined) tags.push([273, 4, offsets], [278, 4, [2]], [279, 4, counts]);
  else tags.push([322, 4, [image.tile]], [323, 4, [image.tile]], [324, 4, offsets], [325, 4, counts]);
  if (image.metadata !== undefined) tags.push([42112, 2, image.metadata]);
  if (image.noData !== undefined) tags.push([42113, 2, image.noData]);
  return tags.sort((a, b) => a[0] - b[0]);
}

function packed(type: number, values: readonly number[] | string, littleEndian: boolean): Buffer {
  if (typeof values === 'string') return Buffer.from(`${values}\0`, 'utf8');
  const size = type === 3 ? 2 : type === 4 ? 4 : 8;
  const data = Buffer.alloc(size * values.length);
  values.forEach((value, index) => put(data, size * index, size, value, littleEndian));
  return data;
}

function put(buffer: Buffer, at: number, size: number, value: number, littleEndian: boolean): void {
  if (size === 8 && littleEndian) buffer.writeDoubleLE(value, at);
  else if (size === 8) buffer.writeDoubleBE(value, at);
  else if (littleEndian) buffer.writeUIntLE(value, at, size);
  else buffer.writeUIntBE(value, at, size);
}

function blocksOf(image: TiffImageFixture, littleEndian: boolean): Buffer[] {
  const width = image.tile ?? image.width;
  const height = image.tile ?? 2;
  const groups = image.planar === true ? image.samples.map((sample) => [sample]) : [image.samples];
  const blocks: Buffer[] = [];
  for (const group of groups) {
    for (let top = 0; top < image.height; top += height) {
      for (let left = 0; left < image.width; left += width) {
        const rows = image.tile === undefined ? Math.min(height, image.height - top) : height;
        const lines: Buffer[] = [];
        for (let row = top; row < top + rows; row += 1)
          lines.push(lineOf(image, group, row, left, width, littleEndian));
        blocks.push(coded(image.coding ?? 'none', Buffer.concat(lines)));
      }
    }
  }
  return blocks;
}

function lineOf(
  image: TiffImageFixture,
  group: readonly (readonly number[])[],
  row: number,
  left: number,
  width: number,
  littleEndian: boolean,
): Buffer {
  const kind = image.kind ?? 'float32';
  const numbers: number[] = [];
  for (let column = left; column < left + width; column += 1) {
    for (const sample of group)
      numbers.push(row < image.height && column < image.width ? sample[row * image.width + column]! : 0);
  }
  if (image.predictor === 2)
    for (let i = numbers.length - 1; i >= group.length; i -= 1) numbers[i]! -= numbers[i - group.length]!;
  const size = KINDS[kind][0];
  const line = Buffer.alloc(size * numbers.length);
  const view = new DataView(line.buffer, line.byteOffset, line.byteLength);
  // The floating-point predictor stores the bytes of all numbers from the most significant on.
  const little = image.predictor === 3 ? false : littleEndian;
  numbers.forEach((value, index) => {
    const at = size * index;
    if (kind === 'float32') view.setFloat32(at, value, little);
    else if (kind === 'float64') view.setFloat64(at, value, little);
    else if (kind === 'int16') view.setInt16(at, value, little);
    else if (kind === 'uint16') view.setUint16(at, value, little);
    else view.setInt32(at, value, little);
  });
  if (image.predictor !== 3) return line;
  const planes = Buffer.alloc(line.length);
  for (let i = 0; i < numbers.length; i += 1)
    for (let b = 0; b < size; b += 1) planes[b * numbers.length + i] = line[size * i + b]!;
  for (let i = planes.length - 1; i >= group.length; i -= 1) planes[i] = (planes[i]! - planes[i - group.length]!) & 255;
  return planes;
}

function coded(coding: TiffCoding, block: Buffer): Buffer {
  if (coding === 'deflate') return deflateSync(block);
  if (coding === 'lzw') return lzwBytes(block);
  if (coding === 'packbits') {
    const runs: Buffer[] = [];
    for (let at = 0; at < block.length; at += 128) {
      const run = block.subarray(at, at + 128);
      runs.push(Buffer.from([run.length - 1]), run);
    }
    return Buffer.concat(runs);
  }
  if (coding !== 'zstandard') return block;
  // A frame of one raw block: magic, "single segment, size in four bytes", size, last raw block.
  const head = Buffer.from([0x28, 0xb5, 0x2f, 0xfd, 0xa0, 0, 0, 0, 0, 0, 0, 0]);
  head.writeUInt32LE(block.length, 5);
  head.writeUIntLE(1 | (block.length << 3), 9, 3);
  return Buffer.concat([head, block]);
}
