import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hasProgram } from '../../support/external-programs.js';
import { apply, degreesApart, metresApart, planOf, points, runCct, transformerOf } from './agreement.js';
import type { Case, Triple } from './agreement.js';

const SITE = resolve('examples/quillback-pan-site/site.json');

interface SiteFile {
  readonly horizontal: {
    readonly source_origin: { readonly east_m: number; readonly north_m: number };
    readonly site_origin: { readonly east_m: number; readonly north_m: number };
    readonly scale: number;
    readonly rotation_deg: number;
  };
  readonly vertical: {
    readonly origin: { readonly east_m: number; readonly north_m: number };
    readonly offset_m: number;
    readonly slope_east: number;
    readonly slope_north: number;
  };
}

/** The site undone by complex numbers: source = (site − origin) ÷ (scale · e^{iθ}) + origin. Westing, southing, height. */
function offTheSite({ horizontal, vertical }: SiteFile, [east, north, height]: Triple): Triple {
  const turn = (horizontal.rotation_deg * Math.PI) / 180;
  const [re, im] = [horizontal.scale * Math.cos(turn), horizontal.scale * Math.sin(turn)];
  const [x, y] = [east - horizontal.site_origin.east_m, north - horizontal.site_origin.north_m];
  const norm = re * re + im * im;
  const e = (x * re + y * im) / norm + horizontal.source_origin.east_m;
  const n = (y * re - x * im) / norm + horizontal.source_origin.north_m;
  const plane =
    vertical.offset_m +
    vertical.slope_east * (e - vertical.origin.east_m) +
    vertical.slope_north * (n - vertical.origin.north_m);
  return [-e, -n, height - plane];
}

/** The site laid on by complex numbers: site = (source − origin) · scale · e^{iθ} + origin. */
function ontoTheSite({ horizontal, vertical }: SiteFile, [westing, southing, height]: Triple): Triple {
  const turn = (horizontal.rotation_deg * Math.PI) / 180;
  const [re, im] = [horizontal.scale * Math.cos(turn), horizontal.scale * Math.sin(turn)];
  const [x, y] = [-westing - horizontal.source_origin.east_m, -southing - horizontal.source_origin.north_m];
  const plane =
    vertical.offset_m +
    vertical.slope_east * (-westing - vertical.origin.east_m) +
    vertical.slope_north * (-southing - vertical.origin.north_m);
  return [
    x * re - y * im + horizontal.site_origin.east_m,
    x * im + y * re + horizontal.site_origin.north_m,
    height + plane,
  ];
}

/** Inside the control, on the Cape datum: some tens of metres from the same numbers on the datum of the site. */
const CAPE: Case['box'] = [
  [-31.465, 21.342, 900],
  [-31.448, 21.355, 1100],
];
/** Inside the control, in the coordinates of the site. */
const BOX: Case['box'] = [
  [4700, 7300, 1000],
  [5600, 8700, 1100],
];

describe.skipIf(!hasProgram('cct'))('a site to latitude and longitude in one run (skipped where cct is absent)', () => {
  const file = JSON.parse(readFileSync(SITE, 'utf8')) as SiteFile;

  it('is the site undone by hand and the grid undone by cct, to 0.01 mm', async () => {
    const plan = await planOf({ site: SITE, inverse: true, to: 'EPSG:4148' });
    const run = transformerOf(plan, ['orthometric', 'orthometric']);
    const inputs = points(BOX).slice(0, 300);
    const grid = inputs.map((point) => offTheSite(file, point));
    const cct = {
      cct: '+proj=pipeline +step +inv +proj=tmerc +axis=wsu +lon_0=21 +ellps=WGS84 +step +proj=unitconvert +xy_in=rad +xy_out=deg'.split(
        ' ',
      ),
      swapOut: true,
    };
    const expected = runCct(cct, grid, false);
    const worst = Math.max(
      ...inputs.map((point, at) => degreesApart(apply(run, point), expected[at] ?? [Number.NaN, 0, 0])),
    );
    expect(worst).toBeLessThan(1e-5);
  });

  it('is reached from another datum by a named operation, as cct has it and the site laid on by hand', async () => {
    const plan = await planOf({ site: SITE, from: 'EPSG:4222', operation: 'EPSG:1504' });
    const run = transformerOf(plan, ['orthometric', 'orthometric']);
    const inputs = points(CAPE).slice(0, 300);
    const cct = {
      cct: '+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad +step +proj=cart +a=6378249.145 +rf=293.4663077 +step +proj=helmert +x=-134.73 +y=-110.92 +z=-292.66 +step +inv +proj=cart +ellps=WGS84 +step +proj=tmerc +axis=wsu +lon_0=21 +ellps=WGS84'.split(
        ' ',
      ),
      swapIn: true,
    };
    const grid = runCct(cct, inputs, false);
    const worst = Math.max(
      ...inputs.map((point, at) => {
        const [westing, southing] = grid[at] ?? [Number.NaN, 0];
        return metresApart(apply(run, point), ontoTheSite(file, [westing, southing, point[2]]));
      }),
    );
    expect(worst).toBeLessThan(1e-5);
  });
});
