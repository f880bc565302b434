import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { operationByCode } from '../../../../src/core/frames/operations/operations.js';
import { createVelocityGrid, movedByGrid, movedFromByGrid } from '../../../../src/core/frames/plates/velocity-grid.js';
import type { VelocityGrid } from '../../../../src/core/frames/plates/velocity-grid.js';
import { applyShift } from '../../../../src/core/frames/shifts/shift-apply.js';
import { loadVelocityGrid } from '../../../../src/files/grids/load-velocity-grid.js';
import { DEFAULT_GRID_READING } from '../../../../src/io/grids/grid-reading.js';
import { readVelocityGrid } from '../../../../src/io/grids/velocity-grid-read.js';
import type { GeocentricPoint } from '../../../../src/records/points/point.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { apartM, geocentricOf, shiftWith, valueOf } from '../../../support/shift-of-row.js';
import { geoidMetadata, tiffBytes } from '../../../support/tiff-bytes.js';

const FOLDER = 'tests/fixtures/velocity-grids';
const nordic = async (): Promise<VelocityGrid> =>
  valueOf(await loadVelocityGrid('nkgrf03vel_realigned_extract.tif', FOLDER, DEFAULT_GRID_READING));
const at = (latitudeDeg: number, longitudeDeg: number, ellipsoidalHeightM = 0): GeocentricPoint =>
  geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }, GRS80);

describe('a grid of velocities', () => {
  it.each(readReferenceTable('velocity-grids').map((row) => ({ name: row.case, row })))('$name', async ({ row }) => {
    const start = at(row.number('latitude_deg'), row.number('longitude_deg'), row.number('ellipsoidal_height_m'));
    const end = at(
      row.number('to_latitude_deg'),
      row.number('to_longitude_deg'),
      row.number('to_ellipsoidal_height_m'),
    );
    const grid = await nordic();
    expect(apartM(movedByGrid(start, grid, row.number('years')) ?? start, end)).toBeLessThan(row.tolerance);
    expect(apartM(movedFromByGrid(end, grid, row.number('years')) ?? end, start)).toBeLessThan(row.tolerance);
  });

  it('is linear in time: a hundred years are a hundred times one, to 1e-9 radian', async () => {
    const start = at(63.0, 21.5);
    const grid = await nordic();
    const one = movedByGrid(start, grid, 1) ?? start;
    const hundred = movedByGrid(start, grid, 100) ?? start;
    const far = {
      xM: start.xM + 100 * (one.xM - start.xM),
      yM: start.yM + 100 * (one.yM - start.yM),
      zM: start.zM + 100 * (one.zM - start.zM),
    };
    const [a, b] = [geocentricToGeodetic(hundred, GRS80), geocentricToGeodetic(far, GRS80)];
    expect(Math.abs(a.latitudeDeg - b.latitudeDeg) * (Math.PI / 180)).toBeLessThan(1e-9);
    expect(Math.abs(a.longitudeDeg - b.longitudeDeg) * (Math.PI / 180)).toBeLessThan(1e-9);
  });

  it('closes below a micrometre there and back, on 200 random points over 33 years', async () => {
    const random = seededRandom(11);
    const grid = await nordic();
    for (let i = 0; i < 200; i += 1) {
      const start = at(random.between(62.85, 63.15), random.between(21.02, 21.64), random.between(0, 2000));
      const there = movedByGrid(start, grid, 33);
      expect(there).not.toBeNull();
      expect(apartM(movedFromByGrid(there ?? start, grid, 33) ?? start, start)).toBeLessThan(1e-9);
      expect(apartM(there ?? start, start)).toBeGreaterThan(1e-3);
    }
  });

  it('gives nothing outside', async () => {
    const grid = await nordic();
    expect(movedByGrid(at(60, 21.5), grid, 1)).toBeNull();
    expect(movedFromByGrid(at(63, 25), grid, 1)).toBeNull();
  });

  it('refuses a file of another kind, and one without a component', async () => {
    const image = {
      width: 2,
      height: 2,
      tiePoint: [0, 0, 0, 20, -28, 0],
      pixelScale: [1, 1, 0],
      geoKeys: { 1024: 2, 1025: 2, 2048: 4326 },
    };
    const geoid = await readVelocityGrid(
      tiffBytes([{ ...image, samples: [[1, 2, 3, 4]], metadata: geoidMetadata() }]),
      DEFAULT_GRID_READING,
    );
    expect(geoid.problems[0]?.code).toBe('grid-unsupported');
    const metadata =
      '<GDALMetadata><Item name="TYPE">VELOCITY</Item><Item name="DESCRIPTION" sample="0">east_velocity</Item></GDALMetadata>';
    const half = await readVelocityGrid(
      tiffBytes([{ ...image, samples: [[1, 2, 3, 4]], metadata }]),
      DEFAULT_GRID_READING,
    );
    expect(half.problems[0]?.message).toContain('north_velocity');
    const unit = metadata.replace('</GDALMetadata>', '<Item name="UNITTYPE" sample="0">furlongs</Item></GDALMetadata>');
    const odd = await readVelocityGrid(
      tiffBytes([{ ...image, samples: [[1, 2, 3, 4]], metadata: unit }]),
      DEFAULT_GRID_READING,
    );
    expect(odd.problems[0]?.message).toContain('furlongs');
  });

  it('unpacks whole numbers by scale and offset, and has none at no-data', async () => {
    const sample = (index: number, name: string): string =>
      `<Item name="DESCRIPTION" sample="${String(index)}">${name}</Item><Item name="SCALE" sample="${String(index)}" role="scale">0.01</Item><Item name="OFFSET" sample="${String(index)}" role="offset">${String(index)}</Item>`;
    const read = async (metadata: string): Promise<VelocityGrid> => {
      const bytes = tiffBytes([
        {
          width: 3,
          height: 2,
          kind: 'int16',
          samples: [
            [1500, 1500, 1500, 1500, 1500, -32768],
            [-700, -700, -700, -700, -700, -700],
            [250, 250, 250, 250, 250, 250],
          ],
          tiePoint: [0, 0, 0, 20, 60, 0],
          pixelScale: [1, 1, 0],
          metadata,
          noData: '-32768',
        },
      ]);
      const { frame, levels } = valueOf(await readVelocityGrid(bytes, DEFAULT_GRID_READING));
      return valueOf(createVelocityGrid({ name: 'packed', sha256: '', frame }, levels));
    };
    const items = ['east_velocity', 'north_velocity', 'up_velocity'].map((name, index) => sample(index, name)).join('');
    const grid = await read(`<GDALMetadata><Item name="TYPE">VELOCITY</Item>${items}</GDALMetadata>`);
    // Millimetres a year: 0 + 0.01 · 1500, 1 − 0.01 · 700, 2 + 0.01 · 250.
    const { xMPerYear, yMPerYear, zMPerYear } = grid.velocityAt(at(59.5, 20.5)) ?? {
      xMPerYear: NaN,
      yMPerYear: NaN,
      zMPerYear: NaN,
    };
    expect(Math.hypot(xMPerYear, yMPerYear, zMPerYear)).toBeCloseTo(Math.hypot(0.015, -0.006, 0.0045), 9);
    expect(grid.velocityAt(at(59.5, 21.5))).toBeNull();
  });
});

/** The nodes around BUDD as a file, and as a grid. */
async function aroundBudd(): Promise<VelocityGrid> {
  const cut = JSON.parse(readFileSync(`${FOLDER}/nkgrf17vel-budd.json`, 'utf8')) as Readonly<
    Record<'west' | 'north' | 'longitudeStep' | 'latitudeStep' | 'width' | 'height', number>
  > & { readonly samples: readonly (readonly number[])[] };
  const names = ['east_velocity', 'north_velocity', 'up_velocity'];
  const items = names
    .map((name, index) => `<Item name="DESCRIPTION" sample="${String(index)}">${name}</Item>`)
    .join('');
  const bytes = tiffBytes([
    {
      width: cut.width,
      height: cut.height,
      samples: cut.samples,
      tiePoint: [0, 0, 0, cut.west, cut.north, 0],
      pixelScale: [cut.longitudeStep, cut.latitudeStep, 0],
      geoKeys: { 1024: 2, 1025: 2, 2048: 9069 },
      metadata: `<GDALMetadata><Item name="TYPE">VELOCITY</Item>${items}</GDALMetadata>`,
    },
  ]);
  const { frame, levels } = valueOf(await readVelocityGrid(bytes, DEFAULT_GRID_READING));
  expect(frame).toBe('EPSG:9069');
  return valueOf(createVelocityGrid({ name: 'budd', sha256: '', frame }, levels));
}

describe('the chain of the Nordic commission at BUDD', () => {
  // PROJ-GIE, test/gie/nkg.gie, published to 0.1 mm: ITRF2014 at 2015.0, NKG_ETRF14 at 2000.0, ETRS89 of Denmark.
  it('gives the published points to 0.1 mm', async () => {
    const grid = await aroundBudd();
    const start = geocentricOf([3513638.0964, 778956.547, 5248216.5248]);
    const etrf = valueOf(applyShift(valueOf(operationByCode('EPSG:8366')).shift, start, 2015, 'forward'));
    expect(apartM(etrf, geocentricOf([3513638.5233, 778956.1497, 5248216.298]))).toBeLessThan(6e-5);
    const nkg = movedByGrid(etrf, grid, 2000 - 2015) ?? etrf;
    expect(apartM(nkg, geocentricOf([3513638.5071, 778956.1528, 5248216.287]))).toBeLessThan(1.1e-4);
    const danish = shiftWith('position-vector', {
      parameters: {
        txM: 0.66818,
        tyM: 0.04453,
        tzM: -0.45049,
        rxArcsec: 0.00312883,
        ryArcsec: -0.02373423,
        rzArcsec: 0.00442969,
        dsPpm: -0.003136,
      },
    });
    const shifted = valueOf(applyShift(danish, nkg, null, 'forward'));
    const end = movedByGrid(shifted, grid, 15.829) ?? shifted;
    expect(apartM(end, geocentricOf([3513638.5607, 778956.1875, 5248216.2477]))).toBeLessThan(1.1e-4);
  });
});
