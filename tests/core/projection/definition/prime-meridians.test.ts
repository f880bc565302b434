import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { loadGeographicSystem, loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import { systemsAgree } from '../../../../src/core/grid/systems/systems-agree.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { valueOf } from '../../../support/shift-of-row.js';

interface Entry {
  readonly code: string;
  readonly name: string;
  readonly kind: string;
  readonly proj4: string | null;
}

const index = JSON.parse(
  readFileSync(createRequire(import.meta.url).resolve('epsg-index/all.json'), 'utf8'),
) as Readonly<Record<string, Entry>>;
const counted = Object.values(index).filter(
  ({ code, name, proj4 }) =>
    // Codes from 32768 on are not the registry's.
    Number.parseInt(code, 10) < 32768 &&
    !name.includes(' + ') &&
    proj4?.includes('+pm=') === true &&
    !/\+proj=(?:longlat|geocent|labrd)/u.test(proj4),
);
const accepted = counted.filter(({ code }) => loadGridSystem(`EPSG:${code}`).ok);

describe('grids that count from another prime meridian than Greenwich', () => {
  it('are accepted, but for those whose method is not known from the index', () => {
    for (const { code, name } of counted) {
      const grid = loadGridSystem(`EPSG:${code}`);
      if (!grid.ok) expect(grid.problems[0]?.message, name).toMatch(/method|definition/u);
    }
    expect(accepted.length).toBe(39);
  });

  // EPSG-DB: NTF (Paris) to NTF, MGI (Ferro) to MGI, … are rotations of longitude alone (method EPSG:9601).
  it.each([
    ['EPSG:27572', 'EPSG:4275'],
    ['EPSG:31253', 'EPSG:4312'],
    ['EPSG:27391', 'EPSG:4273'],
    ['EPSG:2065', 'EPSG:4156'],
  ])('%s stands on the datum of %s and on no other', (grid, geographic) => {
    const { base } = valueOf(loadGridSystem(grid));
    expect(systemsAgree(base, valueOf(loadGeographicSystem(geographic)))).toBe(true);
    for (const other of ['EPSG:4326', 'EPSG:4258', 'EPSG:4314'])
      expect(systemsAgree(base, valueOf(loadGeographicSystem(other)))).toBe(false);
  });

  it('take and give longitudes from Greenwich', () => {
    // Lambert zone II is centred on Paris, 2° 20′ 14.025″ east: a point of that meridian has the false easting.
    const grid = valueOf(loadGridSystem('EPSG:27572'));
    const pair = { first: 0, second: 0 };
    expect(grid.forward(46.8, 2 + 20 / 60 + 14.025 / 3600, pair)).toBe('ok');
    expect(pair.first).toBeCloseTo(600000, 6);
    const place = { latitudeDeg: 0, longitudeDeg: 0 };
    expect(grid.inverse(600000, 2200000, place)).toBe('ok');
    expect(place.longitudeDeg).toBeCloseTo(2.337229166666667, 11);
  });
});

describe.skipIf(!hasProgram('cct'))('the same by cct (skipped where it is absent)', () => {
  it.each(accepted.map((entry) => ({ name: `${entry.code} ${entry.name}`, entry })))('$name', ({ entry }) => {
    const grid = valueOf(loadGridSystem(`EPSG:${entry.code}`));
    const area = grid.areaOfUse;
    if (area === null) throw new Error('no area of use');
    const latitudeDeg = (2 * area.southDeg + area.northDeg) / 3;
    const longitudeDeg = (2 * area.westDeg + area.eastDeg) / 3;
    const words = (entry.proj4 ?? '')
      .split(/\s+/u)
      .filter((word) => !/^\+(?:type|towgs84|nadgrids|axis|no_defs)/u.test(word));
    const [line] = runProgram('cct', ['-d', '6', ...words], `${String(longitudeDeg)} ${String(latitudeDeg)} 0 0\n`);
    const [east, north] = numbersOf(line ?? '');
    const pair = { first: 0, second: 0 };
    expect(grid.forward(latitudeDeg, longitudeDeg, pair)).toBe('ok');
    // South-west axes are the same numbers with the other sign, in the unit of the grid.
    const sign = grid.southOrientated ? -1 : 1;
    expect(Math.abs(sign * pair.first - (east ?? Number.NaN))).toBeLessThan(1e-4);
    expect(Math.abs(sign * pair.second - (north ?? Number.NaN))).toBeLessThan(1e-4);
  });
});

describe('geographic systems that count from another prime meridian', () => {
  const systems = Object.values(index).filter(
    ({ code, proj4, kind }) =>
      Number.parseInt(code, 10) < 32768 && kind === 'CRS-GEOGCRS' && proj4?.includes('+pm=') === true,
  );

  // The registry names those of one datum alike but for the meridian in brackets; EPSG-DB, as the index has it.
  it('are refused with the system of the same datum from Greenwich, wherever the registry has one', () => {
    expect(systems.length).toBe(24);
    let named = 0;
    for (const { code, name } of systems) {
      const datum = name.replace(/ \([A-Za-z]+\)$/u, '');
      const hint = loadGeographicSystem(`EPSG:${code}`).problems[0]?.hint ?? '';
      const other = /name EPSG:(\d+) \((.*)\), which/u.exec(hint);
      const same = Object.values(index).filter((entry) => entry.name === datum && entry.kind === 'CRS-GEOGCRS');
      expect([code, other?.[1]]).toEqual([code, same[0]?.code]);
      if (other === null) expect(hint).toContain('the registry has no such system');
      else {
        named += 1;
        expect(other[2]).toBe(datum);
        expect(loadGeographicSystem(`EPSG:${String(other[1])}`).ok, hint).toBe(true);
      }
    }
    expect(named).toBe(19);
  });

  it('are refused with what makes their longitudes degrees from Greenwich', () => {
    const hintOf = (text: string): string | undefined => loadGeographicSystem(text).problems[0]?.hint;
    // EPSG-DB: Paris lies 2.5969213 grads east of Greenwich.
    expect(hintOf('EPSG:4807')).toBe(
      'turn its angles into degrees (a grad is 0.9°), and add 2.337229167° to its longitudes, and name EPSG:4275 (NTF), which counts from Greenwich',
    );
    expect(hintOf('EPSG:4802')).toContain('add -74.080916667° to its longitudes, and name EPSG:4218 (Bogota 1975)');
    expect(hintOf('+proj=longlat +ellps=bessel +pm=ferro')).toBe(
      'add -17.666666667° to its longitudes, and leave +pm out of the definition',
    );
  });
});
