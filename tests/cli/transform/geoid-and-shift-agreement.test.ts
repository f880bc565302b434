import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hasProgram } from '../../support/external-programs.js';
import { seededRandom } from '../../support/seeded-random.js';
import { geoidMetadata, POINT_KEYS, tiffBytes } from '../../support/tiff-bytes.js';
import { apply, degreesApart, points, runCct, scratch, transformer } from './agreement.js';
import type { Case, Triple } from './agreement.js';

// A grid of shifts and a geoid in one run: each is read at the place of its own frame. The geoid is steeper than any, and the
// shifts are of 100 m, so that a height read at the other place is wrong by centimetres.
const PLACE = { width: 4, height: 3, tiePoint: [0, 0, 0, 20, -28, 0], pixelScale: [1, 1, 0], geoKeys: POINT_KEYS };
const BOX: Case['box'] = [
  [-29.9, 20.1, -50],
  [-28.1, 22.9, 3000],
];

function gridOf(name: string, samples: readonly (readonly number[])[], metadata: string): string {
  const path = join(scratch, name);
  writeFileSync(path, tiffBytes([{ ...PLACE, samples, metadata }]));
  return path;
}

function nodes(seed: number, from: number, to: number): readonly number[] {
  const random = seededRandom(seed);
  return Array.from({ length: 12 }, () => Math.fround(random.between(from, to)));
}

function shiftGrid(): string {
  const item = (index: number, name: string): string =>
    `<Item name="DESCRIPTION" sample="${String(index)}" role="description">${name}</Item><Item name="UNITTYPE" sample="${String(index)}" role="unittype">arc-second</Item>`;
  const metadata = `<GDALMetadata><Item name="TYPE">HORIZONTAL_OFFSET</Item>${item(0, 'latitude_offset')}${item(1, 'longitude_offset')}</GDALMetadata>`;
  return gridOf('shifts.tif', [nodes(1, 2, 4), nodes(2, -4, -2)], metadata);
}

function pipeline(shifts: string, geoid: string, geoidAt: 'source' | 'target'): Case {
  const down = `+step +inv +proj=vgridshift +grids=${geoid} +multiplier=1`;
  const across = `+step +proj=hgridshift +grids=${shifts}`;
  const steps = geoidAt === 'source' ? `${down} ${across}` : `${across} ${down}`;
  const cct = `+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad ${steps} +step +proj=unitconvert +xy_in=rad +xy_out=deg`;
  return {
    name: 'both',
    options: {},
    box: BOX,
    metric: degreesApart,
    swapIn: true,
    swapOut: true,
    cct: cct.split(' '),
  };
}

function worst(one: readonly Triple[], other: readonly Triple[]): number {
  return Math.max(...one.map((point, i) => degreesApart(point, other[i] ?? [Number.NaN, 0, 0])));
}

// The geoid states EPSG:4326, by its key.
const WAYS = [
  {
    at: 'source',
    from: 'EPSG:4326',
    to: 'EPSG:4314',
    words: 'GNSS to the old datum: the geoid is read before the shift',
  },
  { at: 'target', from: 'EPSG:4314', to: 'EPSG:4326', words: 'the old datum to GNSS: the geoid is read after it' },
] as const;

describe.skipIf(!hasProgram('cct'))('a grid of shifts and a geoid in one run (skipped where cct is absent)', () => {
  for (const { at, from, to, words } of WAYS) {
    it(`${words}; 0.02 mm from cct on 1,000 points both ways`, async () => {
      const geoid = gridOf('geoid.tif', [nodes(3, 0, 90)], geoidMetadata());
      const shift = shiftGrid();
      const c = pipeline(shift, geoid, at);
      const heights = { fromHeight: 'ellipsoidal', toHeight: 'orthometric' };
      const there = await transformer({ from, to, shift, geoid, ...heights }, ['ellipsoidal', 'orthometric']);
      const home = await transformer(
        { from: to, to: from, shift, geoid, inverse: true, fromHeight: 'orthometric', toHeight: 'ellipsoidal' },
        ['orthometric', 'ellipsoidal'],
      );
      const inputs = points(c.box);
      const ours = inputs.map((point) => apply(there, point));
      // PROJ keeps the nodes of shifts in single precision: 0.01 mm of them, and of a geoid this steep less than as much in height.
      expect(worst(ours, runCct(c, inputs, false))).toBeLessThan(2e-5);
      expect(
        worst(
          ours.map((point) => apply(home, point)),
          inputs,
        ),
      ).toBeLessThan(1e-6);
      const wrong = pipeline(shift, geoid, at === 'source' ? 'target' : 'source');
      expect(worst(ours, runCct(wrong, inputs, false))).toBeGreaterThan(0.01);
    });
  }

  it('is refused where the geoid belongs to neither of the two', async () => {
    const geoid = gridOf('geoid-of-a-third.tif', [nodes(3, 0, 90)], geoidMetadata());
    const asked = { from: 'EPSG:4258', to: 'EPSG:4314', shift: shiftGrid(), geoid };
    await expect(
      transformer({ ...asked, fromHeight: 'ellipsoidal', toHeight: 'orthometric' }, ['ellipsoidal', 'orthometric']),
    ).rejects.toThrow('is given in EPSG:4326');
  });
});
