import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';
import { explainProjection } from '../../../src/tasks/explain/projection/projection-lines.js';
import { ROOT } from '../../support/repository-files.js';

// EPSG-DB, by the registry's index: which systems there are is not ours to say.
const CODES = Object.keys(
  JSON.parse(readFileSync(join(ROOT, 'node_modules/epsg-index/all.json'), 'utf8')) as Record<string, unknown>,
);
/** Methods of so many systems that one in twenty-five of them stands for all. */
const COMMON = /\+proj=(?:tmerc|utm|lcc) /u;
const STEP = 25;

describe('--explain', () => {
  it('works every projection of the registry term by term in the middle of its area', () => {
    const index = JSON.parse(readFileSync(join(ROOT, 'node_modules/epsg-index/all.json'), 'utf8')) as Record<
      string,
      { readonly proj4: string | null; readonly kind: string } | undefined
    >;
    const methods = new Set<string>();
    const parametersOnly: string[] = [];
    let common = 0;
    for (const code of CODES) {
      const { proj4, kind } = index[code] ?? { proj4: null, kind: '' };
      if (kind !== 'CRS-PROJCRS') continue;
      // Without a string of the index a system has a method that few have.
      if (COMMON.test(`${proj4 ?? ''} `) && (common += 1) % STEP !== 0) continue;
      const loaded = loadGridSystem(`EPSG:${code}`);
      if (!loaded.ok) continue;
      const grid = loaded.value;
      const area = grid.areaOfUse;
      if (area === null) continue;
      const eastDeg = area.eastDeg < area.westDeg ? area.eastDeg + 360 : area.eastDeg;
      const middleDeg = (area.westDeg + eastDeg) / 2;
      // A little off the middle, where a parallel is no straight line and no term is nothing.
      const latitudeDeg = area.southDeg + 0.45 * (area.northDeg - area.southDeg);
      const turnedDeg = middleDeg + 0.01 * (eastDeg - area.westDeg);
      const longitudeDeg = turnedDeg > 180 ? turnedDeg - 360 : turnedDeg;
      const pair = { first: 0, second: 0 };
      if (grid.forward(latitudeDeg, longitudeDeg, pair) !== 'ok') continue;
      methods.add(`${grid.projection.key}${grid.projection.method.replace(/^[^(]*/u, '')}`);
      const { isPrinted } = explainProjection(grid, { latitudeDeg, longitudeDeg }, [pair.first, pair.second]);
      if (!isPrinted) parametersOnly.push(`EPSG:${code} ${grid.projection.method}`);
    }
    expect(parametersOnly).toEqual([]);
    expect([...methods].map((one) => one.split(/ ?\(/u)[0])).toEqual(
      expect.arrayContaining(
        'tmerc utm lcc merc omerc somerc sterea stere krovak mod_krovak labrd col_urban nzmg cass aea laea eqc cea poly eqearth'.split(
          ' ',
        ),
      ),
    );
  }, 120_000);
});
