import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { GeoidGrid } from '../../../src/core/geoid/geoid-grid.js';
import { gridLevelFrom } from '../../../src/core/geoid/grid-level-from.js';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import type { GeoidModel } from '../../../src/core/geoid/geoid-height.js';
import { readGeoidGrid } from '../../../src/io/grids/geoid-grid-read.js';
import type { GeoidInterpolation } from '../../../src/records/session.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { geoidGridFile } from '../../support/geoid-grid-files.js';
import { gtxBytes } from '../../support/gtx-bytes.js';
import { isgText } from '../../support/isg-example.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';
import { tiffBytes } from '../../support/tiff-bytes.js';
import { codes, value } from '../support.js';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'geoid-'));
  writeFileSync(join(folder, 'example-1.isg'), isgText());
  // Four rows of three nodes, from 22.5° N 69° W, 0.7° by 1°: as the text of the example has them.
  const ggxf = [0, 1, 2, 3].flatMap((row) =>
    [0, 1, 2].map((column) => [(22.5 + 0.7 * row).toFixed(1), column - 69, -10.5 - row - 10 * column].join(',')),
  );
  writeFileSync(join(folder, 'ggxf-07.csv'), `latitude_deg,longitude_deg,geoid_height_m\n${ggxf.join('\n')}\n`);
  const nodes = Array.from({ length: 16 }, (_, index) => index + 1);
  writeFileSync(join(folder, 'pixelispoint.tif'), tiffBytes([{ width: 4, height: 4, samples: [nodes] }]));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Grids that need no file from elsewhere: the built-in one, and those built above from published numbers. */
const MADE: Readonly<Record<string, string>> = {
  egm96: 'egm96',
  'example-1.isg': 'example-1.isg',
  'ggxf-07': 'ggxf-07.csv',
  pixelispoint: 'pixelispoint.tif',
};

const grids = new Map<string, Promise<GeoidGrid>>();
async function modelOf(name: string, kind: GeoidInterpolation): Promise<GeoidModel | null> {
  const made = MADE[name];
  const path = made === undefined ? geoidGridFile(name) : made === 'egm96' ? made : join(folder, made);
  if (path === null) return null;
  let grid = grids.get(name);
  if (grid === undefined) grids.set(name, (grid = readGeoidGrid(path).then(value)));
  return value(createGeoidHeight(await grid, kind));
}

describe('geoid heights of the reference table', () => {
  for (const row of readReferenceTable('geoid')) {
    const grid = row.text('grid');
    const missing = !(grid in MADE) && geoidGridFile(grid) === null;
    it.skipIf(missing)(`${row.case}${missing ? ` (skipped: no grid ${grid})` : ''}`, async () => {
      const model = (await modelOf(grid, row.text('interpolation') as GeoidInterpolation))!;
      const heightM = model.heightAt(row.number('latitude_deg'), row.number('longitude_deg'));
      expect(Math.abs(heightM! - row.number('geoid_height_m'))).toBeLessThanOrEqual(row.tolerance);
    });
  }
});

describe.each(['egm96_15.gtx', 'za-geoid-2010-karoo.tif'])('bilinear heights of %s', (name) => {
  const path = geoidGridFile(name);
  const missing = path === null ? `grid ${name}` : hasProgram('cct') ? null : 'program cct';
  it.skipIf(missing !== null)(
    `agree with PROJ to a micrometre at 3000 positions, in both turns${missing === null ? '' : ` (skipped: no ${missing})`}`,
    async () => {
      const model = (await modelOf(name, 'bilinear'))!;
      const random = seededRandom(96);
      const whole = name.startsWith('egm');
      const points = Array.from({ length: 3000 }, () =>
        whole
          ? ([random.between(-90, 90), random.between(-180, 180)] as const)
          : ([random.between(-32, -31.05), random.between(20.92, 21.87)] as const),
      );
      const input = points
        .map(([latitude, longitude]) => `${longitude.toFixed(12)} ${latitude.toFixed(12)} 0 0`)
        .join('\n');
      const lines = runProgram(
        'cct',
        ['-d', '9', '+proj=vgridshift', `+grids=${path!}`, '+multiplier=1'],
        `${input}\n`,
      );
      expect(lines).toHaveLength(points.length);
      let worst = 0;
      for (const [index, [latitude, longitude]] of points.entries()) {
        const expected = numbersOf(lines[index]!)[2]!;
        const other = longitude < 0 ? longitude + 360 : longitude;
        worst = Math.max(
          worst,
          Math.abs(model.heightAt(latitude, longitude)! - expected),
          Math.abs(model.heightAt(latitude, other)! - expected),
        );
      }
      expect(worst).toBeLessThan(1e-6);
    },
  );
});

describe('the South African grid', () => {
  it('states the frame it is given in, which is not that of the national system', async () => {
    const grid = value(await readGeoidGrid(geoidGridFile('za-geoid-2010-cape.tif') ?? ''));
    expect(grid.frame).toBe('EPSG:8998');
    expect(grid.name).toBe('za-geoid-2010-cape.tif');
    expect(grid.sha256).toMatch(/^[0-9a-f]{64}$/u);
  });
});

describe('the built-in grid', () => {
  it('holds a whole grid, checked as that of a file is', async () => {
    const [level] = value(await readGeoidGrid('egm96')).levels;
    const { values, unitM, wrapsLongitude: _, turnColumns: __, ...shape } = level!;
    expect(value(gridLevelFrom(shape, values, unitM))).toEqual(level);
  });

  it('has whole centimetres at its nodes and says what it is good for', async () => {
    const grid = value(await readGeoidGrid('egm96'));
    const level = grid.levels[0]!;
    expect([level.rows, level.columns, level.turnColumns]).toEqual([721, 1440, 1440]);
    expect(level.values.every((heightM) => Math.round(heightM * 100) / 100 === heightM)).toBe(true);
    expect(grid.sha256).toBeNull();
    expect(grid.precisionNote).toContain('decimetre');
  });

  const missing = geoidGridFile('egm96_15.gtx') === null;
  it.skipIf(missing)(
    `is within 6 mm of the 15 minute grid at its nodes${missing ? ' (skipped: no grid egm96_15.gtx)' : ''}`,
    async () => {
      const [built, full] = [await modelOf('egm96', 'bilinear'), await modelOf('egm96_15.gtx', 'bilinear')];
      let worst = 0;
      for (let row = 0; row < 721; row += 1) {
        for (let column = 0; column < 1440; column += 7) {
          const [latitudeDeg, longitudeDeg] = [-90 + row / 4, column / 4];
          worst = Math.max(
            worst,
            Math.abs(built!.heightAt(latitudeDeg, longitudeDeg)! - full!.heightAt(latitudeDeg, longitudeDeg)!),
          );
        }
      }
      expect(worst).toBeLessThan(0.006);
    },
  );
});

describe('readGeoidGrid', () => {
  it('names the grid after its file and hashes what it read', async () => {
    const path = join(folder, 'Made Up.GTX');
    writeFileSync(
      path,
      gtxBytes({
        southDeg: 0,
        westDeg: 0,
        latitudeStepDeg: 1,
        longitudeStepDeg: 1,
        rows: [
          [1, 2],
          [3, 4],
        ],
      }),
    );
    const grid = value(await readGeoidGrid(path));
    expect(grid.name).toBe('Made Up.GTX');
    expect(grid.sha256).toHaveLength(64);
  });

  it('says which file does not exist', async () => {
    const path = join(folder, 'nowhere.gtx');
    const outcome = await readGeoidGrid(path);
    expect(codes(outcome)).toEqual(['file-not-found']);
    expect(outcome.problems[0]?.where?.source).toBe(path);
  });

  it('cannot read a folder', async () => {
    expect(codes(await readGeoidGrid(join(folder, '.')))).toEqual(['grid-unsupported']);
    const named = mkdtempSync(join(folder, 'x-'));
    const { renameSync } = await import('node:fs');
    renameSync(named, `${named}.gtx`);
    expect(codes(await readGeoidGrid(`${named}.gtx`))).toEqual(['file-unreadable']);
  });

  it('refuses an ending it does not know and lists those it does', async () => {
    const outcome = await readGeoidGrid(join(folder, 'grid.bin'));
    expect(codes(outcome)).toEqual(['grid-unsupported']);
    expect(outcome.problems[0]?.expected).toContain('.gtx .tif');
  });

  it('puts the file into every problem of its content', async () => {
    const path = join(folder, 'cut.gtx');
    writeFileSync(path, Buffer.alloc(17));
    const outcome = await readGeoidGrid(path);
    expect(codes(outcome)).toEqual(['grid-unreadable']);
    expect(outcome.problems[0]?.where?.source).toBe(path);
  });
});
