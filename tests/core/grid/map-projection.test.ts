import { describe, expect, it } from 'vitest';
import type { GridSystem } from '../../../src/core/grid/grid-system.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { seededRandom } from '../../support/seeded-random.js';
import { gridOf, projectionArguments } from './systems.js';

const COUNT = 1000;
const ZONES = Array.from({ length: 10 }, (_, i) => `EPSG:${String(2046 + i)}`);
const SYSTEMS = [
  ...ZONES, 'EPSG:32601', 'EPSG:32633', 'EPSG:32735', 'EPSG:32760', 'EPSG:24200', 'EPSG:3448', 'EPSG:2154',
  'EPSG:29873', 'EPSG:3395', 'EPSG:3001', 'EPSG:28992', 'EPSG:2230', 'EPSG:2222', 'EPSG:2056', 'EPSG:5513',
  'EPSG:27200', 'EPSG:3031', 'EPSG:3035', 'EPSG:30200', 'EPSG:28191', 'EPSG:2136', 'EPSG:5880',
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
    return [latitudeDeg, longitudeDeg > 180 ? longitudeDeg - 360 : longitudeDeg < -180 ? longitudeDeg + 360 : longitudeDeg] as const;
  });
}

/** The largest difference from `cct`, metres, and the largest of going back again, metres. */
function differences(system: GridSystem, points: readonly (readonly [number, number])[]): { forward: number; back: number } {
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
    if (system.forward(latitudeDeg, longitudeDeg, out) !== 'ok') throw new Error(`${String(latitudeDeg)} ${String(longitudeDeg)} refused`);
    forward = Math.max(forward, Math.abs(out.first - first) * unitM, Math.abs(out.second - second) * unitM);
    if (system.inverse(first, second, place) !== 'ok') throw new Error(`${String(first)} ${String(second)} refused`);
    const turn = Math.abs(place.longitudeDeg - longitudeDeg);
    const east = Math.min(turn, 360 - turn) * Math.cos((latitudeDeg * Math.PI) / 180);
    back = Math.max(back, Math.abs(place.latitudeDeg - latitudeDeg) * 111320, east * 111320);
  });
  return { forward, back };
}

/** Where our and PROJ's formulas differ by more than a hundredth of a millimetre, in metres. */
const WIDER: Readonly<Record<string, number>> = { 'EPSG:5880': 1e-4 };

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
});
