import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { OptionValue } from '../../../src/cli/shell/command-spec.js';
import { reversedPlan } from '../../../src/tasks/transform/transform-plan.js';
import { apply, degreesApart, metresApart, planOf, points, scratch, transformerOf } from './agreement.js';
import type { Case, Heights, Metric } from './agreement.js';

// A plan reversed is the plan of the run the other way: the same legs, each undone, in the other order. Identities, no source.

type Options = Readonly<Record<string, OptionValue>>;

interface Way {
  readonly name: string;
  readonly there: Options;
  readonly back: Options;
  readonly box: Case['box'];
  readonly heights?: Heights;
}

const SITE = resolve('examples/quillback-pan-site/site.json');
/** Around the invented job. */
const JOB: Case['box'] = [
  [-31.48, 21.333, 900],
  [-31.44, 21.36, 1100],
];
/** Within the control of the site. */
const CONTROL: Case['box'] = [
  [-31.465, 21.342, 900],
  [-31.448, 21.355, 1100],
];
const LO21: Case['box'] = [
  [-34_400, 3_480_100, 900],
  [-31_800, 3_482_400, 1100],
];
const UP: Heights = ['orthometric', 'ellipsoidal'];
const LEVEL: Heights = ['orthometric', 'orthometric'];

const WAYS: readonly Way[] = [
  {
    name: 'a datum operation that keeps heights, between geographic systems',
    there: { from: 'EPSG:4222', to: 'EPSG:4148', operation: 'EPSG:1504' },
    back: { from: 'EPSG:4148', to: 'EPSG:4222', operation: 'EPSG:1504' },
    box: JOB,
  },
  {
    name: 'a datum operation between the zones of two datums',
    there: { from: 'EPSG:2049', to: 'EPSG:32734', operation: 'EPSG:1505' },
    back: { from: 'EPSG:32734', to: 'EPSG:2049', operation: 'EPSG:1505' },
    box: LO21,
  },
  {
    name: 'two operations with a motion in time, between geocentric systems',
    there: { from: 'EPSG:9988', to: 'EPSG:7842', operation: 'EPSG:9991,EPSG:8049', epoch: 2026.9 },
    back: { from: 'EPSG:7842', to: 'EPSG:9988', operation: 'EPSG:8049,EPSG:9991', epoch: 2026.9 },
    box: [
      [-4.1e6, 4.2e6, -2.6e6],
      [-4.0e6, 4.3e6, -2.5e6],
    ],
  },
  {
    name: 'a motion along a plate',
    there: { from: 'EPSG:7789', epochFrom: 2026.3, epochTo: 1994, plate: 'Nubian' },
    back: { from: 'EPSG:7789', epochFrom: 1994, epochTo: 2026.3, plate: 'Nubian' },
    box: [
      [5.0e6, 1.9e6, -3.4e6],
      [5.2e6, 2.1e6, -3.2e6],
    ],
  },
  {
    name: 'heights through a geoid, from a grid to latitude and longitude',
    there: { from: 'EPSG:2049', to: 'EPSG:4148', fromHeight: 'orthometric', toHeight: 'ellipsoidal', geoid: 'egm96' },
    back: { from: 'EPSG:4148', to: 'EPSG:2049', fromHeight: 'ellipsoidal', toHeight: 'orthometric', geoid: 'egm96' },
    box: LO21,
    heights: UP,
  },
  {
    name: 'a vertical offset and slope by a file',
    there: { from: 'EPSG:4258', to: 'EPSG:4258', shift: 'slope.toml' },
    back: { from: 'EPSG:4258', to: 'EPSG:4258', shift: 'slope.toml', inverse: true },
    box: [
      [45.5, 5.5, 0],
      [48, 10.8, 4000],
    ],
    heights: LEVEL,
  },
  {
    name: 'a similarity in the plane',
    there: { from: 'EPSG:32631', to: 'EPSG:32632', shift: 'plane.toml' },
    back: { from: 'EPSG:32632', to: 'EPSG:32631', shift: 'plane.toml', inverse: true },
    box: [
      [200_000, 4_000_000, 0],
      [800_000, 6_000_000, 0],
    ],
  },
  {
    name: 'a ground scale, from another zone',
    there: { from: 'EPSG:2051', to: 'EPSG:2049', groundAt: '-31.45,21.35,1077' },
    back: { from: 'EPSG:2049', to: 'EPSG:2051', groundAt: '-31.45,21.35,1077', inverse: true },
    box: [
      [345_000, 3_480_000, 900],
      [350_000, 3_490_000, 1100],
    ],
  },
  {
    name: 'topocentric axes after a datum operation',
    there: { from: 'EPSG:4148', to: 'EPSG:4326', operation: 'EPSG:1505', topocentricAt: '-31.45,21.35,1077' },
    back: {
      from: 'EPSG:4326',
      to: 'EPSG:4148',
      operation: 'EPSG:1505',
      topocentricAt: '-31.45,21.35,1077',
      inverse: true,
    },
    box: JOB,
  },
  {
    name: 'latitude and longitude of another datum onto a site, with heights through a geoid',
    there: { from: 'EPSG:4326', site: SITE, operation: 'EPSG:1505', toHeight: 'orthometric', geoid: 'egm96' },
    back: {
      to: 'EPSG:4326',
      site: SITE,
      operation: 'EPSG:1505',
      inverse: true,
      toHeight: 'ellipsoidal',
      geoid: 'egm96',
    },
    box: CONTROL,
    heights: ['ellipsoidal', 'orthometric'],
  },
];

const PLACE_DEG = 1e-9;
const METRES = 1e-6;

/** Degrees or metres, by what the numbers are. */
function bounded(way: Way): { readonly metric: Metric; readonly limit: number } {
  const isPlace = way.box.every(([a, b]) => Math.abs(a) <= 90 && Math.abs(b) <= 180);
  return isPlace ? { metric: degreesApart, limit: PLACE_DEG * 111_320 } : { metric: metresApart, limit: METRES };
}

beforeAll(() => {
  writeFileSync(
    join(scratch, 'slope.toml'),
    'method = "EPSG:1046"\nvertical_offset_m = -0.245\norigin_latitude_deg = 46.9\norigin_longitude_deg = 8.2\ninclination_latitude_arcsec = -0.21\ninclination_longitude_arcsec = -0.032\n',
  );
  writeFileSync(
    join(scratch, 'plane.toml'),
    'method = "similarity transformation"\nfirst_origin = -129.549\nsecond_origin = -208.185\nscale_factor = 1.00000155\nrotation_arcsec = 1.56504\n',
  );
});

describe('a transformation reversed', () => {
  it.each(WAYS)('$name: is the run the other way, and closes', async (way) => {
    const heights = way.heights ?? (['ellipsoidal', 'ellipsoidal'] as const);
    const turned = [heights[1], heights[0]] as const;
    const plan = await planOf(way.there);
    const there = transformerOf(plan, heights);
    const reversed = transformerOf(reversedPlan(plan), turned);
    const other = transformerOf(await planOf(way.back), turned);
    const { metric, limit } = bounded(way);
    for (const start of points(way.box).slice(0, 200)) {
      const end = apply(there, start);
      const home = apply(reversed, end);
      expect(metric(home, start)).toBeLessThan(limit);
      expect(metric(apply(other, end), home)).toBeLessThan(limit);
      expect(metric(end, start)).toBeGreaterThan(limit);
    }
  });
});
