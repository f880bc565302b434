import { describe, expect, it } from 'vitest';
import type { GridSystem } from '../../../src/core/grid/systems/grid-system.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { seededRandom } from '../../support/seeded-random.js';
import { buildOf, gridOf, projectionArguments } from '../grid/systems.js';

const COUNT = 1000;
const ZONES = Array.from({ length: 10 }, (_, i) => `EPSG:${String(2046 + i)}`);
const SYSTEMS = [
  ...ZONES,
  'EPSG:32601',
  'EPSG:32633',
  'EPSG:32735',
  'EPSG:32760',
  'EPSG:24200',
  'EPSG:3448',
  'EPSG:2154',
  'EPSG:29873',
  'EPSG:3395',
  'EPSG:3001',
  'EPSG:28992',
  'EPSG:2230',
  'EPSG:2222',
  'EPSG:2056',
  'EPSG:5513',
  'EPSG:27200',
  'EPSG:3031',
  'EPSG:3035',
  'EPSG:30200',
  'EPSG:28191',
  'EPSG:2136',
  'EPSG:5880',
  'EPSG:2000',
  'EPSG:20050',
  'EPSG:2299',
  'EPSG:3053',
  'EPSG:2985',
  'EPSG:3139',
  'EPSG:6247',
  'EPSG:6275',
  'EPSG:8441',
  'EPSG:29701',
];

/** Places in the area of use; every other one within a wider belt around the central meridian for transverse Mercator. */
function places(system: GridSystem, wideDeg: number | null): readonly (readonly [number, number])[] {
  const random = seededRandom(20260304);
  const area = system.areaOfUse!;
  const eastDeg = area.eastDeg < area.westDeg ? area.eastDeg + 360 : area.eastDeg;
  const centre = system.projection.parameters.find((p) => p.name === 'longitude of origin')?.value ?? 0;
  return Array.from({ length: COUNT }, () => {
    const latitudeDeg = random.between(area.southDeg, area.northDeg);
    const longitudeDeg =
      wideDeg === null ? random.between(area.westDeg, eastDeg) : random.between(centre - wideDeg, centre + wideDeg);
    return [
      latitudeDeg,
      longitudeDeg > 180 ? longitudeDeg - 360 : longitudeDeg < -180 ? longitudeDeg + 360 : longitudeDeg,
    ] as const;
  });
}

/** The largest difference from `cct`, metres, and the largest of going back again, metres. */
function differences(
  system: GridSystem,
  points: readonly (readonly [number, number])[],
): { forward: number; back: number } {
  const proj4 = system.definition.proj4!;
  const lines = runProgram(
    'cct',
    ['-z', '0', '-t', '0', '-d', '9', ...projectionArguments(proj4)],
    points.map(([lat, lon]) => `${String(lon)} ${String(lat)}\n`).join(''),
  );
  const unitM = system.axes[0].metresPerUnit;
  const out = { first: NaN, second: NaN };
  const place = { latitudeDeg: NaN, longitudeDeg: NaN };
  let forward = 0;
  let back = 0;
  points.forEach(([latitudeDeg, longitudeDeg], i) => {
    const [a = NaN, b = NaN] = numbersOf(lines[i] ?? '');
    const [first, second] = proj4.includes('+axis=swu') ? [b, a] : [a, b];
    if (system.forward(latitudeDeg, longitudeDeg, out) !== 'ok')
      throw new Error(`${String(latitudeDeg)} ${String(longitudeDeg)} refused`);
    forward = Math.max(forward, Math.abs(out.first - first) * unitM, Math.abs(out.second - second) * unitM);
    if (system.inverse(first, second, place) !== 'ok') throw new Error(`${String(first)} ${String(second)} refused`);
    const turn = Math.abs(place.longitudeDeg - longitudeDeg);
    const east = Math.min(turn, 360 - turn) * Math.cos((latitudeDeg * Math.PI) / 180);
    back = Math.max(back, Math.abs(place.latitudeDeg - latitudeDeg) * 111320, east * 111320);
  });
  return { forward, back };
}

/** Where our and PROJ's formulas differ by more than a hundredth of a millimetre, in metres. */
const WIDER: Readonly<Record<string, number>> = {
  'EPSG:5880': 1e-4,
  // PROJ cuts Laborde's formulas to series; ours are held against fifty digits in tests/reference/projections.csv.
  'EPSG:8441': 0.02,
  'EPSG:29701': 0.02,
};

/** Definitions whose parameters the projection library ignores or mistakes, found by trial against cct. */
const STRINGS: readonly (readonly [string, number, number])[] = [
  ['+proj=krovak +lat_0=49.5 +lon_0=24.8333333 +alpha=30.2881397527778 +x_0=5000 +y_0=70 +ellps=bessel', 50, 15],
  ['+proj=krovak +lat_0=50.5 +lon_0=20 +alpha=35 +k=0.9998 +ellps=bessel', 50, 15],
  ['+proj=cass +hyperbolic +lat_0=-16.25 +lon_0=179.333333333333 +x_0=251727.9155424 +ellps=GRS80', -17, 178],
  ['+proj=labrd +lat_0=40 +lon_0=10 +azi=-35 +k=0.999 +x_0=7 +y_0=9 +ellps=GRS80', 41, 11],
  ['+proj=col_urban +lat_0=-40 +lon_0=10 +h_0=1500 +x_0=7 +y_0=9 +ellps=GRS80', -40.2, 10.3],
  ['+proj=lcc +axis=wnu +lat_1=65 +lat_0=65 +lon_0=-18 +x_0=-500000 +y_0=500000 +ellps=intl', 64, -20],
  ['+proj=lcc +lat_0=0 +lat_1=0.5 +lat_2=0 +lon_0=20 +ellps=GRS80', 2, 23],
  ['+proj=lcc +lat_1=40 +lon_0=20 +ellps=GRS80', 42, 23],
  ['+proj=lcc +lat_0=41 +lat_1=-40 +lat_2=-45 +lon_0=20 +ellps=GRS80', -42, 23],
  ['+proj=lcc +lat_1=40 +lat_0=40 +lon_0=200 +ellps=GRS80', 42, -179],
  ['+proj=tmerc +lon_0=200 +ellps=GRS80', 42, -159],
  ['+proj=tmerc +lat_0=46 +lon_0=8 +R=6371000', 47, 9],
  ['+proj=cass +lat_0=10 +lon_0=10 +R=6371000', 12, 11],
  ['+proj=omerc +lat_0=4 +lonc=115 +alpha=53 +gamma=52 +no_uoff +k=0.9998 +x_0=1000 +ellps=GRS80', 5, 116],
  ['+proj=omerc +lat_0=-40 +lonc=115 +alpha=-53 +k=0.9998 +ellps=GRS80', -41, 116],
  ['+proj=stere +lat_0=45 +lon_0=20 +k=0.999 +ellps=GRS80', 42, 23],
  ['+proj=stere +lat_0=-90 +lat_ts=-71 +lon_0=20 +ellps=GRS80', -72, 23],
  ['+proj=merc +lat_ts=41 +lon_0=20 +ellps=GRS80', 42, 23],
  ['+proj=cea +lat_ts=30 +lon_0=20 +ellps=GRS80', 42, 23],
  ['+proj=laea +lat_0=-90 +lon_0=10 +ellps=GRS80', -82, 23],
];

describe.skipIf(!hasProgram('cct'))('projected coordinates agree with cct (skipped where cct is not installed)', () => {
  for (const text of SYSTEMS) {
    it(`${text}: 0.01 mm on ${String(COUNT)} places in its area of use, both ways`, () => {
      const system = gridOf(text);
      const found = differences(system, places(system, null));
      expect(found.forward).toBeLessThan(WIDER[text] ?? 1e-5);
      expect(found.back).toBeLessThan(WIDER[text] ?? 1e-5);
    });
  }
  for (const text of [...ZONES, 'EPSG:32633', 'EPSG:32735']) {
    it(`${text}: 0.01 mm up to 10 degrees from the central meridian, both ways`, () => {
      const system = gridOf(text);
      const found = differences(system, places(system, 10));
      expect(found.forward).toBeLessThan(1e-5);
      expect(found.back).toBeLessThan(1e-5);
    });
  }
  for (const [text, latitudeDeg, longitudeDeg] of STRINGS) {
    it(`${text}: 0.01 mm, both ways`, () => {
      const found = differences(gridOf(text), [[latitudeDeg, longitudeDeg]]);
      expect(found.forward).toBeLessThan(1e-5);
      expect(found.back).toBeLessThan(1e-5);
    });
  }
});

describe('parameters that a projection does not take are refused', () => {
  for (const text of [
    '+proj=nzmg +lat_0=-40 +lon_0=173 +ellps=intl',
    '+proj=nzmg +lat_0=-41 +lon_0=173 +ellps=GRS80',
    '+proj=somerc +lat_0=46 +lon_0=8 +R=6371000',
  ]) {
    it(text, () => {
      const built = buildOf(text);
      expect(built.ok ? 'built' : built.problems[0]!.code).toBe('system-unsupported');
    });
  }
});
