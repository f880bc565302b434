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
  1042: ['mod_krovak'],
  1043: ['mod_krovak'],
  1051: ['lcc'],
  1052: ['col_urban'],
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
  9813: ['labrd'],
  9815: ['omerc', 'somerc'],
  9818: ['poly'],
  9819: ['krovak'],
  9820: ['laea'],
  9822: ['aea'],
  9826: ['lcc'],
  9829: ['stere'],
  9830: ['stere'],
  9833: ['cass'],
  9835: ['cea'],
};
/** Methods that are refused, with how many systems that loses. Everything else refused counts from another meridian. */
const REFUSED: Readonly<Record<string, number>> = {
  1027: 1,
  9816: 1,
  9817: 1,
  9824: 2,
  9828: 2,
  9831: 1,
  9832: 1,
};
const WORDS: Readonly<Record<string, RegExp>> = {
  1028: /of the ellipsoid/u,
  9803: /2SP Belgium/u,
  9808: /south orientated/u,
  9826: /west orientated/u,
  9833: /hyperbolic/u,
};

const folder = join(dirname(createRequire(import.meta.url).resolve('epsg-index/package.json')), 's');
const codes = readdirSync(folder)
  .map((file) => parseDecimal(file.replace('.json', '')))
  .filter((code): code is number => code !== null && code <= 32767)
  .sort((a, b) => a - b)
  .filter((code) => definitionOf(`EPSG:${String(code)}`).kind === 'projected');

/** The first and the last code of each run of a list. */
function runsOf(text: string): readonly (readonly [number, number])[] {
  return text.split(' ').map((range) => {
    const [from = 0, to = from] = range.split('-').map((part) => parseDecimal(part) ?? 0);
    return [from, to] as const;
  });
}

const methodOf = new Map<number, string>();
for (const line of textOf('tests/core/grid/registry-methods.csv').split('\n')) {
  const match = /^(\d+),"[^"]*",(.*)$/u.exec(line);
  for (const [from, to] of match === null ? [] : runsOf(match[2] ?? ''))
    for (const code of codes) if (code >= from && code <= to) methodOf.set(code, match?.[1] ?? '');
}

/** Every projected system that the registry holds and does not deprecate, with its method. */
const live = textOf('tests/core/grid/live-systems.csv')
  .split('\n')
  .flatMap((line) => {
    const match = /^(\d+),"([^"]*)",(\d+),(.*)$/u.exec(line);
    if (match === null) return [];
    const systems = runsOf(match[4] ?? '').flatMap(([from, to]) =>
      Array.from({ length: to - from + 1 }, (_, i) => from + i),
    );
    expect(systems.length, match[2]).toBe(parseDecimal(match[3] ?? ''));
    return systems.map((code) => ({ code, method: match[1] ?? '', name: match[2] ?? '' }));
  });

describe('every live projected system of the registry', () => {
  it('is computed by its method, or refused by the name of its method', () => {
    expect(live.length).toBe(5135);
    const counts = { computed: 0, byAnother: 0, refused: 0, refusedWithoutName: 0 };
    for (const { code, method, name } of live) {
      const built = buildOf(`EPSG:${String(code)}`);
      if (built.ok)
        counts[COMPUTED[method]?.includes(built.value.projection.key) === true ? 'computed' : 'byAnother'] += 1;
      else counts[saysMethod(built.problems[0]?.message ?? '', name) ? 'refused' : 'refusedWithoutName'] += 1;
    }
    expect(counts).toEqual({ computed: 5126, byAnother: 0, refused: 9, refusedWithoutName: 0 });
  });
});

/** Whether a message names a method, in the registry's words or those of its text. */
function saysMethod(message: string, name: string): boolean {
  return message.toLowerCase().includes(name.toLowerCase());
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
        if (method !== undefined && method in COMPUTED) expect(reason, String(code)).toBe('');
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
    azimuth: 'azimuth of the initial line',
    'False easting': 'false westing',
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
    'Latitude of natural origin': 'latitude of origin',
    'Longitude of natural origin': 'longitude of origin',
    'Scale factor at natural origin': 'scale factor at origin',
    'Latitude of projection centre': 'latitude of origin',
    'Longitude of origin': 'longitude of origin',
    'Co-latitude of cone axis': 'azimuth of the central line',
    'Scale factor on pseudo standard parallel': 'scale factor at origin',
    'Latitude of standard parallel': 'latitude of true scale',
    'Easting at false origin': 'false easting',
    'False easting': 'false easting',
    'False northing': 'false northing',
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
        const length = /^(?:false|easting at)/iu.test(name);
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
      'labrd azimuth': 1,
      'lcc False easting': 15,
      'eqc standard_parallel_1': 1,
      'merc standard_parallel_1': 3,
      'omerc longitude_of_center': 27,
    });
    // What a method fixes and the text repeats: a central line due east, and the cone of Krovak. The false origin of a polar map
    // lies on its parallel in the text, and at the pole in the string; rows of tests/reference/projections.csv hold it.
    expect(Object.fromEntries(without)).toEqual({
      'somerc azimuth': '90',
      'somerc rectified_grid_angle': '90',
      'krovak pseudo_standard_parallel_1': '78.5',
      'mod_krovak Latitude of pseudo standard parallel': '78.5',
      'stere Northing at false origin': '200000',
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
