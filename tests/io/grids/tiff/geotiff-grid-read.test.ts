import { deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readGeotiffGrid } from '../../../../src/io/grids/tiff/geotiff-grid-read.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { AREA_KEYS, geoidMetadata, POINT_KEYS, tiffBytes } from '../../../support/tiff-bytes.js';
import type { TiffCoding, TiffImageFixture } from '../../../support/tiff-bytes.js';
import { codes, value } from '../../support.js';

const METADATA = geoidMetadata();
const COUNT = Array.from({ length: 16 }, (_, index) => index + 1);
const SMALL: TiffImageFixture = { width: 4, height: 4, samples: [COUNT], metadata: METADATA };
/** 1 to 16 from the north-west, as rows from the south. */
const TURNED = [13, 14, 15, 16, 9, 10, 11, 12, 5, 6, 7, 8, 1, 2, 3, 4];

const read = (...images: TiffImageFixture[]) => readGeotiffGrid(tiffBytes(images));
const levelOf = async (image: TiffImageFixture) => value(await read(image)).levels[0]!;

describe('readGeotiffGrid', () => {
  it('turns rows from the north into rows from the south, and takes pixels as points (PROJ-GIE, O-26)', async () => {
    const outcome = await read(SMALL);
    const { levels, frame } = value(outcome);
    expect(levels[0]).toMatchObject({
      southDeg: 52,
      westDeg: 4,
      latitudeStepDeg: 1,
      longitudeStepDeg: 1,
      rows: 4,
      columns: 4,
    });
    expect(Array.from(levels[0]!.values)).toEqual(TURNED);
    expect(frame).toBe('EPSG:4326');
    expect(outcome.problems).toEqual([]);
  });

  it('takes pixels that are areas half a step inwards', async () => {
    expect(await levelOf({ ...SMALL, geoKeys: AREA_KEYS })).toMatchObject({ southDeg: 51.5, westDeg: 4.5 });
  });

  it('takes a tie point that is not at the first pixel', async () => {
    expect(await levelOf({ ...SMALL, tiePoint: [3, 3, 0, 7, 52, 0] })).toMatchObject({ southDeg: 52, westDeg: 4 });
  });

  it('warns when the file does not say what its numbers are, and takes them as geoid heights', async () => {
    const { metadata: _, ...silent } = SMALL;
    const outcome = await read(silent);
    expect(outcome.ok).toBe(true);
    expect(outcome.problems.map((problem) => problem.severity)).toEqual(['warning']);
  });

  it('reads bytes that start anywhere in their buffer', async () => {
    const padded = Buffer.concat([Buffer.alloc(5), tiffBytes([SMALL])]).subarray(5);
    expect(Array.from(value(await readGeotiffGrid(padded)).levels[0]!.values)).toEqual(TURNED);
  });
});

describe('layouts', () => {
  const random = seededRandom(7);
  const heights = Array.from({ length: 70 * 50 }, () => Math.fround(random.between(-50, 50)));
  const smooth = Array.from({ length: 70 * 50 }, (_, index) => Math.round(20 + 10 * Math.sin(index / 200)));
  const big: TiffImageFixture = {
    width: 70,
    height: 50,
    samples: [heights],
    metadata: METADATA,
    pixelScale: [0.1, 0.1, 0],
  };
  const codings: readonly TiffCoding[] = ['none', 'lzw', 'deflate', 'packbits', 'zstandard'];

  it.each(
    codings.flatMap(
      (coding) =>
        [
          [coding, undefined],
          [coding, 16],
        ] as const,
    ),
  )('%s in tiles of %s give every number back', async (coding, tile) => {
    for (const samples of [heights, smooth]) {
      const level = await levelOf({ ...big, samples: [samples], coding, ...(tile === undefined ? {} : { tile }) });
      const rows = Array.from({ length: 50 }, (_, row) => samples.slice((49 - row) * 70, (50 - row) * 70)).flat();
      expect(Array.from(level.values)).toEqual(rows);
    }
  });

  it.each([
    ['float32', 3],
    ['float64', 3],
    ['int16', 2],
    ['int32', 2],
  ] as const)(
    '%s with predictor %i give every number back; in the other byte order they are refused',
    async (kind, predictor) => {
      const image: TiffImageFixture = { ...big, samples: [smooth], kind, predictor, coding: 'deflate', tile: 32 };
      expect(Array.from((await levelOf(image)).values.slice(0, 70))).toEqual(smooth.slice(49 * 70));
      // geotiff 3.0.5 adds up the differences in the wrong byte order (its pull request 550); refused until it does not.
      expect(codes(await readGeotiffGrid(tiffBytes([image], false)))).toEqual(['grid-unsupported']);
    },
  );

  it.each(['none', 'lzw', 'deflate'] as const)(
    '%s in the other byte order gives the same numbers, with lists of blocks far from their directory',
    async (coding) => {
      // geotiff 3.0.5 reads such lists in the wrong byte order unless told to read them at once (its issue 535).
      for (const kind of ['float32', 'int16'] as const) {
        const image: TiffImageFixture = { ...big, samples: [smooth], kind, coding, tile: 16 };
        const large = value(await readGeotiffGrid(tiffBytes([image], false)));
        expect(large.levels[0]!.values).toEqual((await levelOf(image)).values);
      }
    },
  );

  it.each([false, true])(
    'the sample of geoid heights is found among others, in blocks of its own or not (%s)',
    async (planar) => {
      const other = COUNT.map((height) => 100 - height);
      const metadata = METADATA.replace('sample="0"', 'sample="1"').replace(
        '</GDAL',
        '<Item name="DESCRIPTION" sample="0" role="description">uncertainty</Item></GDAL',
      );
      const level = await levelOf({ ...SMALL, samples: [other, COUNT], metadata, planar });
      expect(Array.from(level.values)).toEqual(TURNED);
    },
  );
});

describe('numbers', () => {
  const items = (...pairs: readonly (readonly [string, string])[]): string =>
    geoidMetadata(
      undefined,
      undefined,
      pairs
        .map(([name, text]) => `<Item name="${name}" sample="0" role="${name.toLowerCase()}">${text}</Item>`)
        .join(''),
    );

  it('are offset plus scale times raw, with no data told by the raw number', async () => {
    const raw = COUNT.map((height) => (height === 6 ? -32768 : height * 100));
    const level = await levelOf({
      ...SMALL,
      samples: [raw],
      kind: 'int16',
      noData: '-32768',
      metadata: items(['SCALE', '0.01'], ['OFFSET', '-5.5']),
    });
    expect(level.values[0]).toBeCloseTo(13 - 5.5, 12);
    expect(level.values[9]).toBeNaN();
    expect(level.values.filter((height) => Number.isNaN(height))).toHaveLength(1);
  });

  it('are compared with the no-data value as the file can hold it', async () => {
    const raw = COUNT.map((height) => (height === 1 ? -88.8888 : height));
    expect((await levelOf({ ...SMALL, samples: [raw], noData: '-88.8888' })).values[12]).toBeNaN();
    const none = COUNT.map((height) => (height === 1 ? Number.NaN : height));
    expect((await levelOf({ ...SMALL, samples: [none], noData: 'nan' })).values[12]).toBeNaN();
  });

  it('in a unit of the registry become metres', async () => {
    const level = await levelOf({ ...SMALL, metadata: items(['UNITTYPE', 'US survey foot']) });
    expect(level.values[15]).toBeCloseTo((4 * 1200) / 3937, 12);
  });
});

describe('several images', () => {
  const fine: TiffImageFixture = { ...SMALL, pixelScale: [0.25, 0.25, 0], tiePoint: [0, 0, 0, 5, 54, 0] };

  it('become levels, finest first', async () => {
    const { levels } = value(await read(SMALL, fine));
    expect(levels.map((level) => level.longitudeStepDeg)).toEqual([0.25, 1]);
  });

  it('without metadata of their own are what the first is', async () => {
    const { metadata: _, ...silent } = fine;
    const outcome = await read(SMALL, silent);
    expect(value(outcome).levels).toHaveLength(2);
    expect(outcome.problems).toEqual([]);
  });

  it('that are reduced copies or masks are passed over', async () => {
    const { levels } = value(await read(SMALL, { ...fine, subfileType: 1 }, { ...fine, subfileType: 4 }));
    expect(levels).toHaveLength(1);
  });

  it('in a list that runs in a circle are refused', async () => {
    const bytes = tiffBytes([SMALL, fine]);
    const second = bytes.readUInt32LE(bytes.readUInt32LE(4) + 2 + 12 * bytes.readUInt16LE(bytes.readUInt32LE(4)));
    bytes.writeUInt32LE(second, second + 2 + 12 * bytes.readUInt16LE(second));
    expect((await readGeotiffGrid(bytes)).problems[0]?.message).toContain('does not end');
  });
});

describe('refusals', () => {
  const silent: TiffImageFixture = { width: 4, height: 4, samples: [COUNT] };

  it.each<[string, TiffImageFixture, RegExp]>([
    [
      'horizontal offsets',
      { ...SMALL, metadata: geoidMetadata('HORIZONTAL_OFFSET', 'latitude_offset') },
      /HORIZONTAL_OFFSET/,
    ],
    [
      'offsets between two kinds of height',
      { ...SMALL, metadata: geoidMetadata(undefined, 'vertical_offset') },
      /vertical_offset/,
    ],
    ['several samples without description', { ...silent, samples: [COUNT, COUNT] }, /2 samples/],
    [
      'an unknown unit',
      { ...SMALL, metadata: geoidMetadata(undefined, undefined, '<Item name="UNITTYPE" sample="0">ft</Item>') },
      /unit is ft/,
    ],
    [
      'a scale that is no number',
      { ...SMALL, metadata: geoidMetadata(undefined, undefined, '<Item name="SCALE" sample="0">x</Item>') },
      /scale/,
    ],
    ['a no-data value that is no number', { ...SMALL, noData: 'none' }, /no-data/],
    ['a projected grid', { ...SMALL, geoKeys: { 1024: 1, 1025: 2, 3072: 32735 } }, /geographic/],
    ['angles that are not degrees', { ...SMALL, geoKeys: { ...POINT_KEYS, 2054: 9105 } }, /degrees/],
    ['pixels that are neither points nor areas', { ...SMALL, geoKeys: { 1024: 2, 2048: 4326 } }, /point or an area/],
    ['two tie points', { ...SMALL, tiePoint: [0, 0, 0, 4, 55, 0, 3, 3, 0, 7, 52, 0] }, /tie point/],
    ['a compression that loses', { ...SMALL, coding: 'jpeg' }, /compression 7/],
    ['one row', { ...SMALL, height: 1, samples: [[1, 2, 3, 4]] }, /too few/],
  ])('meet %s as unsupported', async (_name, image, message) => {
    const outcome = await read(image);
    expect(codes(outcome)).toEqual(['grid-unsupported']);
    expect(outcome.problems[0]?.message).toMatch(message);
  });

  it.each<[string, TiffImageFixture]>([
    ['latitudes beyond the pole', { ...SMALL, tiePoint: [0, 0, 0, 4, 95, 0] }],
    ['a step of nothing', { ...SMALL, pixelScale: [0, 1, 0] }],
    [
      'a no-data value the file does not state',
      { ...SMALL, samples: [COUNT.map((height) => (height === 3 ? -32768 : height))] },
    ],
    [
      'a deflate block that is damaged',
      {
        ...SMALL,
        coding: 'deflate',
        damage: (block) => Buffer.from(block.map((byte, at) => (at > 3 ? byte ^ 255 : byte))),
      },
    ],
    ['a deflate block cut off', { ...SMALL, coding: 'deflate', damage: (block) => block.subarray(0, 6) }],
    [
      'a deflate block that unpacks to far more than its size',
      { ...SMALL, coding: 'deflate', damage: () => deflateSync(Buffer.alloc(50_000_000)) },
    ],
    [
      'a zstandard block that states far more than its size',
      { ...SMALL, coding: 'zstandard', damage: (block) => (block.writeUInt32LE(2 ** 31, 5), block) },
    ],
    [
      'a zstandard block that does not state its size',
      { ...SMALL, coding: 'zstandard', damage: (block) => ((block[4] = 0), block) },
    ],
    [
      'a packbits block that unpacks to far more than its size',
      { ...SMALL, coding: 'packbits', damage: () => Buffer.alloc(5000, 129) },
    ],
    [
      'a packbits block whose last run is cut off',
      { ...SMALL, coding: 'packbits', damage: (block) => block.subarray(0, -3) },
    ],
    [
      'a packbits block with the code that packs nothing',
      { ...SMALL, coding: 'packbits', damage: (block) => Buffer.concat([Buffer.from([128]), block]) },
    ],
    // Bits that are all set are code 511, beyond the table so far: the decoder itself would never come to an end.
    [
      'an LZW block with a code beyond its table',
      { ...SMALL, coding: 'lzw', damage: (block) => Buffer.concat([block.subarray(0, 2), Buffer.alloc(8, 255)]) },
    ],
    [
      'an LZW block that does not begin with a clear code',
      { ...SMALL, coding: 'lzw', damage: (block) => Buffer.concat([Buffer.alloc(3), block]) },
    ],
    ['a block that is missing', { ...SMALL, damage: (block, index) => (index === 1 ? Buffer.alloc(0) : block) }],
  ])('meet %s as unreadable', async (_name, image) => {
    expect(codes(await read(image))).toEqual(['grid-unreadable']);
  });

  it('meet an LZW block that unpacks to far more than its size as unreadable', async () => {
    const { lzwBytes } = await import('../../../support/lzw-bytes.js');
    const outcome = await read({ ...SMALL, coding: 'lzw', damage: () => lzwBytes(Buffer.alloc(1_000_000)) });
    expect(outcome.problems[0]?.message).toContain('unpacks to more');
  });

  it('meet a file that is no TIFF, an empty one, and every truncation', async () => {
    const bytes = tiffBytes([{ ...SMALL, coding: 'deflate' }]);
    expect(codes(await readGeotiffGrid(Buffer.from('not a tiff at all')))).toEqual(['grid-unreadable']);
    expect(codes(await readGeotiffGrid(Buffer.alloc(0)))).toEqual(['grid-unreadable']);
    for (let length = 1; length < bytes.length; length += 7) {
      const outcome = await readGeotiffGrid(bytes.subarray(0, length));
      expect([length, outcome.ok]).toEqual([length, false]);
    }
  });
});

it('a missing block of a grid that states a no-data value is without data', async () => {
  const level = await levelOf({
    ...SMALL,
    noData: '-99',
    damage: (block, index) => (index === 1 ? Buffer.alloc(0) : block),
  });
  expect(Array.from(level.values.slice(8))).toEqual(TURNED.slice(8));
  expect(level.values.slice(0, 8).every((height) => Number.isNaN(height))).toBe(true);
});
