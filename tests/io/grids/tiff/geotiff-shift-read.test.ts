import { describe, expect, it } from 'vitest';
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
