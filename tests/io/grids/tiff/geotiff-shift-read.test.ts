import { describe, expect, it } from 'vitest';
import { createShiftGrid } from '../../../../src/core/frames/grids/shift-grid.js';
import { createGridShift } from '../../../../src/core/grid/plane/grid-shift.js';
import type { GridShiftLevel } from '../../../../src/core/grid/plane/grid-shift.js';
import { readGeotiffShift } from '../../../../src/io/grids/tiff/geotiff-shift-read.js';
import { POINT_KEYS, geoidMetadata, tiffBytes } from '../../../support/tiff-bytes.js';
import type { TiffImageFixture } from '../../../support/tiff-bytes.js';
import { codes, value } from '../../support.js';

function metadata(unit = 'arc-second', more = '', type = 'HORIZONTAL_OFFSET'): string {
  const sample = (index: number, name: string): string =>
    `<Item name="DESCRIPTION" sample="${String(index)}" role="description">${name}</Item><Item name="UNITTYPE" sample="${String(index)}" role="unittype">${unit}</Item>`;
  return `<GDALMetadata><Item name="TYPE">${type}</Item>${sample(0, 'longitude_offset')}${sample(1, 'latitude_offset')}${more}</GDALMetadata>`;
}

/** Two rows from north to south, two columns from west to east; longitude first, to see that names count. */
function image(changes: Partial<TiffImageFixture> = {}): TiffImageFixture {
  return {
    width: 2,
    height: 2,
    samples: [
      [10, 20, 30, 40],
      [1, 2, 3, 4],
    ],
    tiePoint: [0, 0, 0, 20, -28, 0],
    pixelScale: [1, 1, 0],
    geoKeys: POINT_KEYS,
    metadata: metadata(),
    ...changes,
  };
}

async function levelsOf(bytes: Buffer): Promise<readonly GridShiftLevel[]> {
  const { content } = value(await readGeotiffShift(bytes));
  if (content.kind !== 'geographic' || content.shifts === null)
    throw new Error('latitudes and longitudes were asked for');
  return content.shifts;
}

/** Two by two nodes of translations, of one number each. */
function translations(codes: string, unit = 'metre', values: readonly number[] = [-168, -72, 318]): TiffImageFixture {
  const items = ['x', 'y', 'z'].map(
    (axis, index) =>
      `<Item name="DESCRIPTION" sample="${String(index)}" role="description">${axis}_translation</Item><Item name="UNITTYPE" sample="${String(index)}" role="unittype">${unit}</Item>`,
  );
  return image({
    samples: values.map((number) => [number, number, number, number]),
    metadata: `<GDALMetadata><Item name="TYPE">GEOCENTRIC_TRANSLATION</Item>${items.join('')}${codes}</GDALMetadata>`,
  });
}

describe('readGeotiffShift, of geocentric translations', () => {
  const code = (end: string, number: number): string => `<Item name="${end}_crs_epsg_code">${String(number)}</Item>`;
  const read = async (fixture: TiffImageFixture) => value(await readGeotiffShift(tiffBytes([fixture])));

  it('takes 318 m as they stand, and survey feet as metres', async () => {
    const metres = (await read(translations(''))).content;
    expect(metres.kind === 'geocentric' && metres.axes.map(([level]) => level?.values[0])).toEqual([-168, -72, 318]);
    const feet = (await read(translations('', 'US survey foot', [3937, 0, -3937]))).content;
    expect(feet.kind === 'geocentric' && feet.axes.map(([level]) => level?.values[3])).toEqual([1200, 0, -1200]);
    expect(codes(await readGeotiffShift(tiffBytes([translations('', 'arc-second')])))).toEqual(['grid-unsupported']);
    // A no-data value that the file does not state.
    expect(codes(await readGeotiffShift(tiffBytes([translations('', 'metre', [-9999, 0, 0])])))).toEqual([
      'grid-unreadable',
    ]);
  });

  it('finds whose places they are at, and refuses those of a third system', async () => {
    const at = async (more: string) => {
      const { content } = await read(translations(more));
      return content.kind === 'geocentric' && content.readAt;
    };
    expect(await at('')).toBe('source');
    expect(await at(code('target', 4258))).toBe('source');
    expect(await at(code('source', 4275) + code('target', 4326))).toBe('target');
    const third = await readGeotiffShift(tiffBytes([translations(code('source', 4275) + code('target', 4258))]));
    expect(third.problems[0]?.message).toContain('its places are in EPSG:4326');
  });
});

describe('readGeotiffShift', () => {
  it('says what another kind is named with', async () => {
    const geoid = await readGeotiffShift(tiffBytes([image({ samples: [[1, 2, 3, 4]], metadata: geoidMetadata() })]));
    expect(geoid.problems[0]?.hint).toBe('geoid heights are named with --geoid');
  });

  it('interpolates among nine nodes where the file says so, and refuses a way it does not know', async () => {
    const way = (name: string): string => metadata('arc-second', `<Item name="interpolation_method">${name}</Item>`);
    // Squares of the column: a parabola is exact half-way, the straight line is not.
    const squares = image({
      width: 3,
      height: 3,
      samples: [
        [0, 1, 4, 0, 1, 4, 0, 1, 4],
        [0, 0, 0, 0, 0, 0, 0, 0, 0],
      ],
      metadata: way('biquadratic'),
    });
    const { content, facts } = value(await readGeotiffShift(tiffBytes([squares])));
    const grid = createShiftGrid(content, facts.interpolation);
    const out = { latitudeDeg: 0, longitudeDeg: 0 };
    expect(grid.kind === 'geographic' && grid.shift?.forward(-29, 21.5, out)).toBe(true);
    expect((out.longitudeDeg - 21.5) * 3600).toBeCloseTo(2.25, 9);
    expect(codes(await readGeotiffShift(tiffBytes([image({ metadata: way('biquadratic') })])))).toEqual([
      'grid-unsupported',
    ]);
    expect(codes(await readGeotiffShift(tiffBytes([image({ metadata: way('kriging') })])))).toEqual([
      'grid-unsupported',
    ]);
  });

  it('finds the samples by name, turns rows to run from the south, and takes east as positive', async () => {
    const [level] = await levelsOf(tiffBytes([image()]));
    expect([level?.southDeg, level?.westDeg, level?.rows, level?.columns]).toEqual([-29, 20, 2, 2]);
    expect([...(level?.latitudeArcsec ?? [])]).toEqual([3, 4, 1, 2]);
    expect([...(level?.longitudeArcsec ?? [])]).toEqual([30, 40, 10, 20]);
  });

  it('reads degrees, and longitudes positive west where the file says so', async () => {
    const west = '<Item name="positive_value" sample="0">west</Item>';
    const [level] = await levelsOf(
      tiffBytes([
        image({
          samples: [
            [0.25, 0, 0.5, 0],
            [0, 0, 0.125, 0],
          ],
          metadata: metadata('degree', west),
        }),
      ]),
    );
    expect(level?.latitudeArcsec[0]).toBe(450);
    expect(level?.longitudeArcsec[0]).toBe(-1800);
  });

  it('unpacks whole numbers by scale and offset, and has none at no-data', async () => {
    const packing = [0, 1]
      .map(
        (index) =>
          `<Item name="SCALE" sample="${String(index)}" role="scale">0.001</Item><Item name="OFFSET" sample="${String(index)}" role="offset">${String(index + 1)}</Item>`,
      )
      .join('');
    const packed = (more: string): Buffer =>
      tiffBytes([
        image({
          kind: 'int16',
          samples: [
            [100, 200, 300, 400],
            [10, 20, -32768, 40],
          ],
          metadata: metadata('arc-second', packing + more),
          noData: '-32768',
        }),
      ]);
    const [level] = await levelsOf(packed(''));
    expect([...(level?.longitudeArcsec ?? [])]).toEqual([1.3, 1.4, 1.1, 1.2]);
    expect([...(level?.latitudeArcsec ?? [])]).toEqual([NaN, 2.04, 2.01, 2.02]);
    const west = (await levelsOf(packed('<Item name="positive_value" sample="0">west</Item>')))[0];
    expect([...(west?.longitudeArcsec ?? [])]).toEqual([-1.3, -1.4, -1.1, -1.2]);
    const shift = createGridShift(level === undefined ? [] : [level]);
    const out = { latitudeDeg: 0, longitudeDeg: 0 };
    expect(shift.forward(-28.5, 20.5, out)).toBe(false);
    expect(shift.inverse(-28.5, 20.5, out)).toBe(false);
    // Along the northern edge the node without a shift has no part.
    expect(shift.forward(-28, 20.5, out)).toBe(true);
    expect(out.latitudeDeg).toBeCloseTo(-28 + 2.015 / 3600, 9);
    expect(shift.forward(-28, 21, out)).toBe(true);
  });

  it('refuses a scale, an offset or a no-data value that is no number', async () => {
    const scale = '<Item name="SCALE" sample="1" role="scale">small</Item>';
    for (const changes of [{ metadata: metadata('arc-second', scale) }, { noData: 'none' }])
      expect(codes(await readGeotiffShift(tiffBytes([image(changes)])))).toEqual(['grid-unsupported']);
  });

  it('refuses geoid heights, unknown units and what is no TIFF', async () => {
    expect(
      codes(await readGeotiffShift(tiffBytes([image({ samples: [[1, 2, 3, 4]], metadata: geoidMetadata() })]))),
    ).toEqual(['grid-unsupported']);
    expect(codes(await readGeotiffShift(tiffBytes([image({ metadata: metadata('furlong') })])))).toEqual([
      'grid-unsupported',
    ]);
    expect(
      codes(await readGeotiffShift(tiffBytes([image({ metadata: metadata('arc-second', '', 'VELOCITY') })]))),
    ).toEqual(['grid-unsupported']);
    expect(codes(await readGeotiffShift(Buffer.from('not a tiff at all')))).toEqual(['grid-unreadable']);
  });
});
