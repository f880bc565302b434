import type { GeoTIFFImage } from 'geotiff';
import { setImmediate } from 'node:timers/promises';
import type { GridLevel } from '../../../core/geoid/geoid-grid.js';
import { gridLevelFrom, gridShapeProblem, MAXIMUM_GRID_NODES } from '../../../core/geoid/grid-level-from.js';
import { failure } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { blockFault, isReadableCompression } from './geotiff-block-check.js';
import type { GridReading } from '../grid-reading.js';
import { geotiffPlacement } from './geotiff-placement.js';
import type { GeotiffSample } from './geotiff-sample.js';

/** Nodes unpacked at once, about. */
const BAND_NODES = 500_000;
/** The largest strip or tile, unpacked, bytes. */
const MAXIMUM_BLOCK_BYTES = 4 * MAXIMUM_GRID_NODES;

/**
 * Reads one image of a geodetic TIFF as a grid level.
 *
 * Given: the image; the sample to read; the whole file, for the check of its blocks.
 * Returned: the level in metres, or in the unit of its sample, no-data nodes NaN.
 * Problems: those of `geotiffPlacement` and `gridLevelFrom`; `grid-unsupported` for a compression
 * or number format not read; `grid-unreadable` for a block that is missing, cut off or damaged.
 * Notes: a big-endian file with a predictor is refused because geotiff 3.0.5 gets its numbers wrong
 * without a word (its pull request 550); so is one with blocks left out.
 */
export async function readGeotiffImage(
  image: GeoTIFFImage,
  sample: GeotiffSample,
  file: Uint8Array,
  reading: GridReading,
): Promise<Outcome<GridLevel>> {
  const placement = geotiffPlacement(image);
  if (!placement.ok) return placement;
  const shape = placement.value;
  const wrong = gridShapeProblem(shape);
  if (wrong !== null) return failure(wrong);
  const format = image.getSampleFormat(sample.index);
  const bits = image.getBitsPerSample(sample.index);
  if (!(format === 3 ? [32, 64] : format === 1 || format === 2 ? [8, 16, 32] : []).includes(bits)) {
    return bad(
      'grid-unsupported',
      `samples of format ${format ?? 'not stated'} with ${bits ?? 'unstated'} bits are not read`,
    );
  }
  if (!image.littleEndian && bits > 8 && ((await image.fileDirectory.loadValue('Predictor')) ?? 1) !== 1) {
    return bad(
      'grid-unsupported',
      'a big-endian TIFF with a predictor is not read',
      'write it again as little-endian, or without a predictor',
    );
  }
  const fault = await blocksFault(image, sample, file, reading.signal);
  if (fault !== null) return failure(fault);

  const plain = sample.scale === 1 && sample.offset === 0 && sample.metresPerUnit === 1;
  const { rows, columns } = shape;
  const values =
    format === 3 && bits === 32 && plain ? new Float32Array(rows * columns) : new Float64Array(rows * columns);
  const noData =
    sample.noData === null ? null : format === 3 && bits === 32 ? Math.fround(sample.noData) : sample.noData;
  const band = bandRows(image.getTileHeight(), columns);
  for (let top = 0; top < rows; top += band) {
    const bottom = Math.min(rows, top + band);
    const raster = await image.readRasters({
      window: [0, top, columns, bottom],
      samples: [sample.index],
      interleave: true,
      pool: null,
    });
    for (let line = top; line < bottom; line += 1) {
      const from = (line - top) * columns;
      const to = (rows - 1 - line) * columns;
      for (let column = 0; column < columns; column += 1) {
        const raw = raster[from + column] ?? Number.NaN;
        values[to + column] = raw === noData ? Number.NaN : (sample.offset + sample.scale * raw) * sample.metresPerUnit;
      }
    }
    await aMoment(reading.signal);
  }
  return gridLevelFrom(shape, values, 1, sample.bound);
}

/** Rows unpacked at once: whole blocks, so that none is unpacked twice, and some hundred thousand nodes where blocks are small. */
function bandRows(blockRows: number, columns: number): number {
  return blockRows * Math.max(1, Math.floor(BAND_NODES / (blockRows * columns)));
}

/** Lets a signal arrive. Throws where one has. */
async function aMoment(signal: AbortSignal | null): Promise<void> {
  await setImmediate();
  signal?.throwIfAborted();
}

/** What is wrong with a block that holds the sample; null where nothing is. */
async function blocksFault(image: GeoTIFFImage, sample: GeotiffSample, file: Uint8Array, signal: AbortSignal | null) {
  const mayBeSparse = sample.noData !== null && image.littleEndian;
  const directory = image.fileDirectory;
  const compression = directory.getValue('Compression') ?? 1;
  if (!isReadableCompression(compression))
    return problem('grid-unsupported', `TIFF compression ${compression} is not read`);
  const isPlanar = image.planarConfiguration !== 1;
  const perPixel = isPlanar ? 1 : image.getSamplesPerPixel();
  const blockBytes = image.getTileWidth() * image.getTileHeight() * perPixel * (image.getBitsPerSample(0) / 8);
  if (!(blockBytes > 0) || blockBytes > MAXIMUM_BLOCK_BYTES)
    return problem('grid-unreadable', `a block of ${blockBytes} bytes is not plausible`);
  const offsets = await directory.loadValue(image.isTiled ? 'TileOffsets' : 'StripOffsets');
  const counts = await directory.loadValue(image.isTiled ? 'TileByteCounts' : 'StripByteCounts');
  const across = Math.ceil(image.getWidth() / image.getTileWidth());
  const down = Math.ceil(image.getHeight() / image.getTileHeight());
  const plane = across * down;
  const blocks = plane * (isPlanar ? image.getSamplesPerPixel() : 1);
  const first = isPlanar ? plane * sample.index : 0;
  if (offsets === undefined || counts === undefined || offsets.length < blocks || counts.length < blocks) {
    return problem('grid-unreadable', `the TIFF does not list its ${blocks} blocks`);
  }
  for (let index = first; index < first + plane; index += 1) {
    await aMoment(signal);
    const offset = Number(offsets[index]);
    const count = Number(counts[index]);
    if (count === 0 && mayBeSparse) continue;
    if (count === 0)
      return problem(
        'grid-unreadable',
        `block ${index + 1} of the TIFF is missing, and no no-data value can stand in for it`,
      );
    if (!(offset + count <= file.byteLength))
      return problem('grid-unreadable', `block ${index + 1} of ${blocks} lies beyond the end of the file`);
    const fault = blockFault(compression, file.subarray(offset, offset + count), blockBytes);
    if (fault !== null) return problem('grid-unreadable', `block ${index + 1} of ${blocks} ${fault}`);
  }
  return null;
}

function problem(code: ProblemCode, message: string) {
  return { code, severity: 'error', message } as const;
}

function bad(code: ProblemCode, message: string, hint?: string): Outcome<never> {
  return failure({ ...problem(code, message), ...(hint === undefined ? {} : { hint }) });
}
