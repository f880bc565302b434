import { describe, expect, it } from 'vitest';
import { parseDecimal } from '../../../../src/core/numeric/text/decimal-text.js';
import { registryMethodName } from '../../../../src/core/projection/definition/registry-method.js';
import { textOf } from '../../../support/repository-files.js';
import { readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { buildOf, definitionOf, gridOf } from '../../grid/systems.js';

// Every projected system of the index against the registry's own method (EPSG-DB), not only against
// the PROJ string beside it: a string can drop a parameter, and `cct` drops it too.

/** PROJ's projections whose formulas are those of a method, and the words that `describe-system` uses. */
const COMPUTED: Readonly<Record<string, readonly string[]>> = {
  1024: ['merc'],
  1028: ['eqc'],
  1041: ['krovak'],
  1051: ['lcc'],
  1078: ['eqearth'],
  1111: ['tmerc'],
  9801: ['lcc'],
  9802: ['lcc'],
  9803: ['lcc'],
  9804: ['merc'],
  9805: ['merc'],
  9806: ['cass'],
  9807: ['tmerc', 'utm'],
  9808: ['tmerc'],
  9809: ['sterea'],
  9810: ['stere'],
  9811: ['nzmg'],
  9812: ['omerc'],
  9815: ['omerc', 'somerc'],
  9818: ['poly'],
  9819: ['krovak'],
  9820: ['laea'],
  9822: ['aea'],
  9829: ['stere'],
  9835: ['cea'],
};
/** Methods that are refused, with how many systems that loses. Everything else refused counts from another meridian. */
const REFUSED: Readonly<Record<string, number>> = {
  1027: 1,
  1042: 2,
  1043: 2,
  1052: 32,
  9813: 2,
  9816: 1,
  9817: 1,
  9824: 2,
  9826: 15,
  9828: 2,
  9830: 2,
  9831: 1,
  9832: 1,
  9833: 1,
};
const WORDS: Readonly<Record<string, RegExp>> = {
  1028: /of the ellipsoid/u,
  9803: /2SP Belgium/u,
  9808: /south orientated/u,
};

const folder = join(dirname(createRequire(import.meta.url).resolve('epsg-index/package.json')), 's');
const codes = readdirSync(folder)
  .map((file) => parseDecimal(file.replace('.json', '')))
  .filter((code): code is number => code !== null && code <= 32767)
  .sort((a, b) => a - b)
  .filter((code) => definitionOf(`EPSG:${String(code)}`).kind === 'projected');

const methodOf = new Map<number, string>();
for (const line of textOf('tests/core/grid/registry-methods.csv').split('\n')) {
  const match = /^(\d+),"[^"]*",(.*)$/u.exec(line);
  for (const range of match?.[2]?.split(' ') ?? []) {
    const [from = 0, to = from] = range.split('-').map((text) => parseDecimal(text) ?? 0);
    for (const code of codes) if (code >= from && code <= to) methodOf.set(code, match?.[1] ?? '');
  }
}

describe("every projected system of the index is computed by the registry's method, or refused", () => {
  const refused: Record<string, number> = {};
  for (const code of codes) {
    const method = methodOf.get(code);
    if (method !== undefined && !buildOf(`EPSG:${String(code)}`).ok && !(method in COMPUTED))
      refused[method] = (refused[method] ?? 0) + 1;
  }
  it('refuses these methods, whole', () => {
    expect(refused).toEqual(REFUSED);
  });
  it('computes the others by their own formulas', () => {
    expect(codes.length).toBeGreaterThan(5000);
    for (const code of codes) {
      const built = buildOf(`EPSG:${String(code)}`);
      const method = methodOf.get(code);
      if (!built.ok) {
        const reason = built.problems[0]?.message ?? '';
        if (method !== undefined && method in COMPUTED)
          expect(reason, String(code)).toMatch(/counts its longitudes from|no definition that can be computed/u);
        continue;
      }
      const { key, method: words } = built.value.projection;
      if (method === undefined)
        expect(key, `EPSG:${String(code)}, no longer in the dataset`).toMatch(/^(?:tmerc|utm|lcc)$/u);
      else {
        expect(COMPUTED[method], `EPSG:${String(code)}, method ${method}`).toContain(key);
        expect(WORDS[method]?.test(words) ?? true, `EPSG:${String(code)}: ${words}`).toBe(true);
      }
    }
  });
});

describe('the PROJ string of a system holds every parameter of the registry text', () => {
  // Where a method has another name for a parameter, the second is ours.
  const others: Readonly<Record<string, string>> = {
    standard_parallel_1: 'latitude of true scale',
    longitude_of_center: 'longitude of centre',
  };
  const names: Readonly<Record<string, string>> = {
    longitude_of_center: 'longitude of origin',
    latitude_of_origin: 'latitude of origin',
    latitude_of_center: 'latitude of origin',
    central_meridian: 'longitude of origin',
    standard_parallel_1: 'first standard parallel',
    standard_parallel_2: 'second standard parallel',
    azimuth: 'azimuth of the central line',
    rectified_grid_angle: 'rectified grid angle',
    scale_factor: 'scale factor at origin',
    false_easting: 'false easting',
    false_northing: 'false northing',
  };
  it('to a tenth of a millimetre and a nanodegree', () => {
    let compared = 0;
    const byOther = new Map<string, number>();
    const without = new Map<string, string>();
    for (const code of codes) {
      const built = buildOf(`EPSG:${String(code)}`);
      if (!built.ok) continue;
      const { definition, projection, axes } = built.value;
      const values = new Map(projection.parameters.map(({ name, value }) => [name, value]));
      for (const [, name = '', text = ''] of (definition.wkt ?? '').matchAll(/PARAMETER\["([^"]+)",([-+\d.eE]+)\]/gu)) {
        // The text gives the parallel of true scale of a polar map for its origin.
        const ours =
          values.get(
            registryMethodName(definition) === 'Polar_Stereographic' &&
              name === 'latitude_of_origin' &&
              values.has('latitude of true scale')
              ? 'latitude of true scale'
              : (names[name] ?? ''),
          ) ?? values.get(others[name] ?? '');
        if (ours === undefined) {
          without.set(`${projection.key} ${name}`, text);
          continue;
        }
        if (!values.has(names[name] ?? ''))
          byOther.set(`${projection.key} ${name}`, (byOther.get(`${projection.key} ${name}`) ?? 0) + 1);
        const length = name.startsWith('false');
        const grads = name !== 'scale_factor' && (definition.wkt ?? '').includes('UNIT["grad"') ? 0.9 : 1;
        const unit = length ? axes[0].metresPerUnit : grads;
        // The text counts longitudes from its own meridian, ours count from Greenwich.
        const meridian = /PRIMEM\["[^"]+",(?<deg>[-+\d.]+)/u.exec(definition.wkt ?? '')?.groups?.['deg'] ?? '0';
        const eastDeg =
          name === 'central_meridian' || name === 'longitude_of_center' ? (parseDecimal(meridian) ?? NaN) : 0;
        const theirs = (parseDecimal(text) ?? NaN) * unit + eastDeg;
        expect(Math.abs(ours - theirs), `EPSG:${String(code)} ${name}`).toBeLessThan(
          length ? 1e-4 : 1e-9 * Math.max(1, Math.abs(theirs)) + 1e-9,
        );
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(20000);
    // Parallels of true scale of equidistant and equal-area cylinders and of Mercator variant B; centres of oblique Mercator.
    expect(Object.fromEntries(byOther)).toEqual({
      'cea standard_parallel_1': 1,
      'eqc standard_parallel_1': 1,
      'merc standard_parallel_1': 3,
      'omerc longitude_of_center': 27,
    });
    // What a method fixes and the text repeats: a central line due east, and the cone of Krovak.
    expect(Object.fromEntries(without)).toEqual({
      'somerc azimuth': '90',
      'somerc rectified_grid_angle': '90',
      'krovak pseudo_standard_parallel_1': '78.5',
    });
  });
});

describe('methods that a string cannot carry', () => {
  it('refuses the spherical form whose text names the ellipsoidal one', () => {
    const built = buildOf('EPSG:9311');
    expect(built.ok ? '' : built.problems[0]?.message).toContain(
      'Lambert Azimuthal Equal Area (Spherical), method 1027',
    );
  });
  it('refuses an equidistant cylinder of an ellipsoid in a PROJ string, and takes the sphere', () => {
    const built = buildOf('+proj=eqc +lon_0=0 +ellps=WGS84');
    expect(built.ok ? '' : built.problems[0]?.message).toContain('25 km');
    expect(gridOf('+proj=eqc +lon_0=0 +R=6371000').projection.key).toBe('eqc');
  });
});
