import { describe, expect, it } from 'vitest';
import { GRS80, WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { Ellipsoid } from '../../../src/core/ellipsoid/ellipsoid.js';
import { loadShiftFile } from '../../../src/files/grids/load-shift-file.js';
import type { LoadedShiftGrid } from '../../../src/files/grids/load-shift-file.js';
import { loadGeographicSystem } from '../../../src/files/systems/load-systems.js';
import { DEFAULT_GRID_READING } from '../../../src/io/grids/grid-reading.js';
import { emptyPointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';
import type { PointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';
import { shiftGridStep } from '../../../src/tasks/transform/steps/shift-grid-step.js';
import type { Step } from '../../../src/tasks/transform/step.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import type { ReferenceRow } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';
import { valueOf } from '../../support/shift-of-row.js';

// Grids and rows are made by tools/reference/shift_grids.py, which asks cct.
const CAPE: Ellipsoid = valueOf(loadGeographicSystem('EPSG:4222')).ellipsoid;
const METRES_PER_DEGREE = 111_320;

async function loaded(name: string): Promise<LoadedShiftGrid> {
  const shift = valueOf(await loadShiftFile(name, 'tests/fixtures/shift-grids', DEFAULT_GRID_READING));
  if (shift.kind !== 'grid') throw new Error('a grid was asked for');
  return shift;
}

const stepOf = async (name: string): Promise<Step> => shiftGridStep(await loaded(name), CAPE, WGS84);

type Triple = readonly [number, number, number];

/** A height above the ellipsoid and above the sea: a grid changes the one that is its own. */
function pointAt(form: string, [a, b, c]: Triple): PointOnTheWay {
  const point = emptyPointOnTheWay();
  if (form === 'geocentric') return Object.assign(point, { xM: a, yM: b, zM: c });
  return Object.assign(point, { latitudeDeg: a, longitudeDeg: b, ellipsoidalHeightM: c, orthometricHeightM: c });
}

function apart(form: string, point: PointOnTheWay, [a, b, c]: Triple, height: keyof PointOnTheWay): number {
  if (form === 'geocentric') return Math.max(Math.abs(point.xM - a), Math.abs(point.yM - b), Math.abs(point.zM - c));
  return Math.max(
    Math.abs(point.latitudeDeg - a) * METRES_PER_DEGREE,
    Math.abs(point.longitudeDeg - b) * METRES_PER_DEGREE,
    Math.abs((point[height] as number) - c),
  );
}

const given = (row: ReferenceRow): Triple => [row.number('in_1'), row.number('in_2'), row.number('in_3')];
const expected = (row: ReferenceRow): Triple => [row.number('out_1'), row.number('out_2'), row.number('out_3')];
const heightOf = (name: string): keyof PointOnTheWay =>
  name.startsWith('offsets') ? 'orthometricHeightM' : 'ellipsoidalHeightM';

describe('grids of shifts of every kind', () => {
  it.each(readReferenceTable('shift-grids').map((row) => ({ name: row.case, row })))('$name', async ({ row }) => {
    const [name, form] = [row.text('grid'), row.text('form')];
    const step = await stepOf(name);
    const point = pointAt(form, given(row));
    expect(step.forward.run(point)).toBeNull();
    expect(apart(form, point, expected(row), heightOf(name))).toBeLessThan(row.tolerance);
    const back = pointAt(form, expected(row));
    expect(step.inverse.run(back)).toBeNull();
    expect(apart(form, back, given(row), heightOf(name))).toBeLessThan(row.tolerance + 1e-9);
  });

  const NAMES = [...new Set(readReferenceTable('shift-grids').map((row) => row.text('grid')))];
  it.each(NAMES)('%s closes below a micrometre on 500 points, and moves each', async (name) => {
    const step = await stepOf(name);
    const random = seededRandom(16);
    const form = step.forward.needs;
    for (let i = 0; i < 500; i += 1) {
      const place: Triple = [random.between(-32.9, -29.1), random.between(19.1, 21.9), random.between(-50, 3000)];
      const start: Triple =
        form === 'geocentric'
          ? [5_060_000 + random.between(-9e4, 9e4), 1_960_000 + random.between(-9e4, 9e4), -3_340_000]
          : place;
      const point = pointAt(form, start);
      expect(step.forward.run(point)).toBeNull();
      expect(apart(form, point, start, heightOf(name))).toBeGreaterThan(0.1);
      expect(step.inverse.run(point)).toBeNull();
      expect(apart(form, point, start, heightOf(name))).toBeLessThan(1e-8);
    }
  });

  it('reads translations at the place of the source or of the target, as the file says', async () => {
    const [source, target] = [
      await loaded('translations-of-the-source.tif'),
      await loaded('translations-of-the-target.tif'),
    ];
    expect([source.grid.kind === 'geocentric' && source.grid.readAt, source.facts.from, source.facts.to]).toEqual([
      'source',
      'EPSG:4222',
      'EPSG:4148',
    ]);
    expect([target.grid.kind === 'geocentric' && target.grid.readAt, target.facts.frame]).toEqual([
      'target',
      'EPSG:4148',
    ]);
  });

  it('leaves a height that is not known unknown, and the other kind alone', async () => {
    const step = await stepOf('latitude-longitude-height.tif');
    const point = Object.assign(pointAt('place', [-31.5, 21.4, 100]), { ellipsoidalHeightM: null });
    expect(step.forward.run(point)).toBeNull();
    expect([point.ellipsoidalHeightM, point.orthometricHeightM]).toEqual([null, 100]);
    const heights = await stepOf('offsets-between-heights.tif');
    const both = pointAt('place', [-31.5, 21.4, 100]);
    expect(heights.forward.run(both)).toBeNull();
    expect(both.ellipsoidalHeightM).toBe(100);
    expect(both.orthometricHeightM).not.toBe(100);
  });

  it('has nothing outside, and nothing beside a node without data', async () => {
    const outside = await stepOf('latitude-longitude-height.tif');
    const heights = await stepOf('offsets-between-heights.tif');
    const space = await stepOf('translations-of-the-target.tif');
    expect(outside.forward.run(pointAt('place', [-20, 21, 0]))?.code).toBe('grid-outside');
    expect(outside.inverse.run(pointAt('place', [-20, 21, 0]))?.code).toBe('grid-outside');
    expect(space.forward.run(pointAt('geocentric', [5e6, -2e6, 3e6]))?.code).toBe('grid-outside');
    expect(space.inverse.run(pointAt('geocentric', [5e6, -2e6, 3e6]))?.code).toBe('grid-outside');
    // The cell in the south-east has a corner without one.
    expect(heights.forward.run(pointAt('place', [-32.5, 22.5, 0]))?.code).toBe('grid-outside');
    expect(heights.forward.run(pointAt('place', [-32.5, 21.5, 0]))).toBeNull();
  });

  it('says which file it was: digest, and one node of the finest grid', async () => {
    const translations = await loaded('translations-of-the-source.tif');
    // The node by the formula of tools/reference/shift_grids.py.
    const [said] = shiftGridStep(translations, CAPE, GRS80).said('inverse');
    expect(said).toBe(
      `grid of geocentric translations translations-of-the-source.tif, applied backwards (EPSG:4222 to EPSG:4148, as the file says): accuracy not stated (SHA-256 ${translations.sha256.slice(0, 12)}…; ΔX -133.8538 m, ΔY -111.2556 m, ΔZ -292.5047 m at -31.500000, 21.500000)`,
    );
    expect((await loaded('latitude-longitude-height.tif')).test).toMatch(
      /^Δφ -\d\.\d{4}″, Δλ .*″, Δh 3\d\.\d{4} m at -31/u,
    );
    expect((await loaded('offsets-between-heights.tif')).test).toBe('ΔH -0.3977 m at -31.000000, 21.000000');
  });
});
