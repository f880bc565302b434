import { describe, expect, it } from 'vitest';
import { createGridShift } from '../../../../src/core/grid/plane/grid-shift.js';
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

describe('readGeotiffShift', () => {
  it('finds the samples by name, turns rows to run from the south, and takes east as positive', async () => {
    const [level] = value(await readGeotiffShift(tiffBytes([image()]))).levels;
    expect([level?.southDeg, level?.westDeg, level?.rows, level?.columns]).toEqual([-29, 20, 2, 2]);
    expect([...(level?.latitudeArcsec ?? [])]).toEqual([3, 4, 1, 2]);
    expect([...(level?.longitudeArcsec ?? [])]).toEqual([30, 40, 10, 20]);
  });

  it('reads degrees, and longitudes positive west where the file says so', async () => {
    const west = '<Item name="positive_value" sample="0">west</Item>';
    const [level] = value(
      await readGeotiffShift(
        tiffBytes([
          image({
            samples: [
              [0.25, 0, 0.5, 0],
              [0, 0, 0.125, 0],
            ],
            metadata: metadata('degree', west),
          }),
        ]),
      ),
    ).levels;
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
    const [level] = value(await readGeotiffShift(packed(''))).levels;
    expect([...(level?.longitudeArcsec ?? [])]).toEqual([1.3, 1.4, 1.1, 1.2].map(Math.fround));
    expect([...(level?.latitudeArcsec ?? [])]).toEqual([NaN, 2.04, 2.01, 2.02].map(Math.fround));
    const west = value(await readGeotiffShift(packed('<Item name="positive_value" sample="0">west</Item>'))).levels[0];
    expect([...(west?.longitudeArcsec ?? [])]).toEqual([-1.3, -1.4, -1.1, -1.2].map(Math.fround));
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
