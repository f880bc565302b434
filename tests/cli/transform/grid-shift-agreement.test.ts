import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hasProgram } from '../../support/external-programs.js';
import { seededRandom } from '../../support/seeded-random.js';
import { POINT_KEYS, tiffBytes } from '../../support/tiff-bytes.js';
import { apply, degreesApart, points, runCct, scratch, transformer } from './agreement.js';
import type { Case, Transformer, Triple } from './agreement.js';

const GRIDS = [
  {
    file: '/usr/share/proj/BETA2007.gsb',
    box: [
      [47.6, 6.3, 0],
      [54.8, 14.9, 0],
    ],
  },
  {
    file: '/usr/share/proj/ntf_r93.gsb',
    box: [
      [42, -4.5, 0],
      [51, 8.5, 0],
    ],
  },
  {
    file: '/usr/share/proj/nzgd2kgrid0005.gsb',
    box: [
      [-46.5, 168, 0],
      [-35, 178, 0],
    ],
  },
  {
    file: '/usr/share/proj/CHENYX06a.gsb',
    box: [
      [46.2, 7, 0],
      [47.2, 9.5, 0],
    ],
  },
] as const;

const RADIANS_PER_ARCSECOND = Math.PI / 648_000;
const ARCSECONDS_PER_RADIAN = 648_000 / Math.PI;

/** Shifts of a file at a place, seconds of arc north and east: nodes as they stand in it, or as a program keeps them. */
type Interpolation = (point: Triple, kept: (arcsec: number) => number) => Triple;

/**
 * Four nodes and nothing else, in double precision, straight from the bytes of a little-endian NTv2 file with one grid
 * (positive west, rows from the south, columns from the east): written for this test and independent of the reader.
 */
function interpolation(path: string): Interpolation {
  const bytes = readFileSync(path);
  expect(bytes.readInt32LE(40), 'grids in the file').toBe(1);
  const [south, , east, west, rowStep, columnStep] = [72, 88, 104, 120, 136, 152].map((offset) =>
    bytes.readDoubleLE(176 + offset),
  ) as [number, number, number, number, number, number];
  const columns = Math.round((west - east) / columnStep) + 1;
  return ([latitude, longitude, height], kept) => {
    const y = (latitude * 3600 - south) / rowStep;
    const x = (-longitude * 3600 - east) / columnStep;
    const [j, i] = [Math.floor(y), Math.floor(x)];
    const [q, p] = [y - j, x - i];
    const node = (row: number, column: number, offset: number): number =>
      kept(bytes.readFloatLE(352 + 16 * (row * columns + column) + offset));
    const at = (offset: number): number =>
      (1 - p) * (1 - q) * node(j, i, offset) +
      p * (1 - q) * node(j, i + 1, offset) +
      (1 - p) * q * node(j + 1, i, offset) +
      p * q * node(j + 1, i + 1, offset);
    return [latitude + at(0) / 3600, longitude - at(4) / 3600, height];
  };
}

const asInTheFile = (arcsec: number): number => arcsec;
/** PROJ turns every node into radians and keeps those in single precision: steps of 6e-8 of the shift, 0.01 mm for 6 seconds of arc. */
const asProjKeepsThem = (arcsec: number): number => Math.fround(arcsec * RADIANS_PER_ARCSECOND) * ARCSECONDS_PER_RADIAN;

function worst(one: readonly Triple[], other: readonly Triple[]): number {
  expect(one).toHaveLength(1000);
  return Math.max(...one.map((point, at) => degreesApart(point, other[at] ?? [Number.NaN, 0, 0])));
}

function gridCase(file: string, box: Case['box']): Case {
  const cct = `+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad +step +proj=hgridshift +grids=${file} +step +proj=unitconvert +xy_in=rad +xy_out=deg`;
  return { name: file, options: {}, box, metric: degreesApart, swapIn: true, swapOut: true, cct: cct.split(' ') };
}

function ways(file: string): readonly [Case['options'], Case['options']] {
  const [from, to] = ['+proj=longlat +ellps=bessel +no_defs', '+proj=longlat +ellps=GRS80 +no_defs'];
  return [
    { from, to, shift: file },
    { from: to, to: from, shift: file, inverse: true },
  ];
}

/** Twelve nodes with shifts of up to 3 seconds, which PROJ keeps to 0.01 mm. */
function smallTiff(): string {
  const random = seededRandom(9615);
  const samples = [0, 1].map(() => Array.from({ length: 12 }, () => Math.fround(random.between(-3, 3))));
  const item = (index: number, name: string): string =>
    `<Item name="DESCRIPTION" sample="${String(index)}" role="description">${name}</Item><Item name="UNITTYPE" sample="${String(index)}" role="unittype">arc-second</Item>`;
  const metadata = `<GDALMetadata><Item name="TYPE">HORIZONTAL_OFFSET</Item>${item(0, 'latitude_offset')}${item(1, 'longitude_offset')}</GDALMetadata>`;
  const path = join(scratch, 'small.tif');
  writeFileSync(
    path,
    tiffBytes([
      {
        width: 4,
        height: 3,
        samples,
        tiePoint: [0, 0, 0, 20, -28, 0],
        pixelScale: [1, 1, 0],
        geoKeys: POINT_KEYS,
        metadata,
      },
    ]),
  );
  return path;
}

describe.skipIf(!hasProgram('cct'))('a geodetic TIFF of shifts on 1,000 points (skipped where cct is absent)', () => {
  it('agrees with cct to 0.01 mm both ways', async () => {
    const file = smallTiff();
    const c = gridCase(file, [
      [-29.9, 20.1, 0],
      [-28.1, 22.9, 0],
    ]);
    const [there, home] = (await Promise.all(ways(file).map((options) => transformer(options)))) as [
      Transformer,
      Transformer,
    ];
    const inputs = points(c.box);
    const theirs = runCct(c, inputs, false);
    expect(
      worst(
        inputs.map((point) => apply(there, point)),
        theirs,
      ),
    ).toBeLessThanOrEqual(1e-5);
    expect(
      worst(
        theirs.map((point) => apply(home, point)),
        runCct(c, theirs, true),
      ),
    ).toBeLessThanOrEqual(1e-5);
  });
});

describe('grids of shifts on 1,000 points (skipped where cct or the file is absent)', () => {
  for (const grid of GRIDS) {
    const name = grid.file.replace(/^.*\//u, '');
    const [systems, back] = ways(grid.file);
    const c = gridCase(grid.file, grid.box);
    const inputs = points(c.box);
    const canRun = existsSync(grid.file);

    it.skipIf(!canRun)(
      `${name}: ours are the numbers of the file, interpolated, to 0.01 micrometres, and a hundred round trips drift less than a micrometre`,
      async () => {
        const run = await transformer(systems);
        const home = await transformer(back);
        const by = interpolation(grid.file);
        const ours = inputs.map((point) => apply(run, point));
        expect(
          worst(
            ours,
            inputs.map((point) => by(point, asInTheFile)),
          ),
        ).toBeLessThan(1e-8);
        expect(
          worst(
            ours.map((point) => apply(home, point)),
            inputs,
          ),
        ).toBeLessThan(1e-8);
        for (const start of inputs.slice(0, 20)) {
          let point = start;
          for (let i = 0; i < 100; i += 1) point = apply(home, apply(run, point));
          expect(degreesApart(point, start)).toBeLessThan(1e-6);
        }
      },
    );

    it.skipIf(!canRun || !hasProgram('cct'))(
      `${name}: what keeps cct from 0.01 mm is its single precision, and nothing else`,
      async () => {
        const run = await transformer(systems);
        const home = await transformer(back);
        const by = interpolation(grid.file);
        const ours = inputs.map((point) => apply(run, point));
        const theirs = runCct(c, inputs, false);
        // Read from 12 decimals of a degree, which are 1.1e-7 m.
        expect(
          worst(
            theirs,
            inputs.map((point) => by(point, asProjKeepsThem)),
          ),
        ).toBeLessThan(1.2e-7);
        const rounding = worst(
          inputs.map((point) => by(point, asProjKeepsThem)),
          inputs.map((point) => by(point, asInTheFile)),
        );
        expect(rounding).toBeLessThan(1.1e-5);
        expect(worst(ours, theirs)).toBeLessThanOrEqual(rounding + 1.2e-7);
        // Backward, cct stops when a step is below 1e-12 radians, which is 0.0064 mm.
        expect(
          worst(
            theirs.map((point) => apply(home, point)),
            runCct(c, theirs, true),
          ),
        ).toBeLessThanOrEqual(rounding + 6.5e-6);
      },
    );
  }
});
