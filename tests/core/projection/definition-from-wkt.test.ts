import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { DESIGN_METHODS, designProjString, designWkt } from '../../../src/core/grid/design/design-text.js';
import { definitionFromWkt } from '../../../src/core/projection/definition/definition-from-wkt.js';
import { parseWkt } from '../../../src/core/projection/definition/wkt-nodes.js';
import { loadGeographicSystem, loadGridSystem } from '../../../src/files/systems/load-systems.js';
import { valueOf } from '../../support/shift-of-row.js';

const canWrite = spawnSync('projinfo', ['--version']).error === undefined;

/** The example of a projected system in OGC-18-010, from memory: no codes beside its method and parameters. */
const UTM_10 = `PROJCRS["NAD83 UTM 10",
  BASEGEOGCRS["NAD83(86)",
    DATUM["North American Datum 1983",ELLIPSOID["GRS 1980",6378137,298.257222101,LENGTHUNIT["metre",1.0]]],
    PRIMEM["Greenwich",0]],
  CONVERSION["UTM zone 10N",ID["EPSG",16010],
    METHOD["Transverse Mercator"],
    PARAMETER["Latitude of natural origin",0.0,ANGLEUNIT["degree",0.0174532925199433]],
    PARAMETER["Longitude of natural origin",-123.0,ANGLEUNIT["degree",0.0174532925199433]],
    PARAMETER["Scale factor at natural origin",0.9996,SCALEUNIT["unity",1.0]],
    PARAMETER["False easting",500000.0,LENGTHUNIT["metre",1.0]],
    PARAMETER["False northing",0.0,LENGTHUNIT["metre",1.0]]],
  CS[Cartesian,2],
    AXIS["(E)",east,ORDER[1]],
    AXIS["(N)",north,ORDER[2]],
    LENGTHUNIT["metre",1.0]]`;

describe('a system given as well-known text', () => {
  it('is read without codes, as the standard writes its example', () => {
    const grid = valueOf(loadGridSystem(UTM_10));
    const named = valueOf(loadGridSystem('EPSG:26910'));
    const [own, other] = [
      { first: 0, second: 0 },
      { first: 0, second: 0 },
    ];
    expect(grid.forward(47.1, -121.9, own)).toBe('ok');
    named.forward(47.1, -121.9, other);
    expect([own.first - other.first, own.second - other.second].map((d) => Math.abs(d) < 1e-9)).toEqual([true, true]);
    expect([grid.code, grid.name, grid.base.name]).toEqual([null, 'NAD83 UTM 10', 'NAD83(86)']);
  });

  it.each(DESIGN_METHODS)('says what the PROJ string of the same design says: %s', (method) => {
    const design = {
      method,
      latitudeDeg: -31.5,
      longitudeDeg: 21.37,
      azimuthDeg: 12.4,
      scaleFactor: 1.000173,
      falseEastingM: 120_000,
      falseNorthingM: 340_000,
    };
    const base = valueOf(loadGeographicSystem('EPSG:4148'));
    const read = valueOf(loadGridSystem(designWkt(design, base, 'The "north" block')));
    const written = valueOf(loadGridSystem(designProjString(design, WGS84)));
    expect([read.name, read.base.code]).toEqual(['The "north" block', 'EPSG:4148']);
    expect(read.projection.parameters).toEqual(written.projection.parameters);
  });

  // PROJ's own texts of registry systems: each method that is read, with units and codes as another program writes them.
  it.skipIf(!canWrite).each([
    ['EPSG:32633', 45.2, 16.3],
    ['EPSG:2154', 48.5, 2.4],
    ['EPSG:28992', 52.3, 5.1],
    ['EPSG:29873', 5.1, 116.2],
    ['EPSG:3395', -20.5, 31.5],
    ['EPSG:24200', 18.1, -77.3],
  ])(
    'of projinfo is the system of its code (skipped where projinfo is not installed): %s',
    (code, latitudeDeg, longitudeDeg) => {
      const text = spawnSync('projinfo', ['-q', '-o', 'WKT2:2019', code], { encoding: 'utf8' }).stdout;
      const read = loadGridSystem(text);
      const named = valueOf(loadGridSystem(code));
      const [own, other] = [
        { first: 0, second: 0 },
        { first: 0, second: 0 },
      ];
      expect(valueOf(read).forward(latitudeDeg, longitudeDeg, own)).toBe('ok');
      named.forward(latitudeDeg, longitudeDeg, other);
      // The text rounds the degree and the parameters to what ten millionths of a metre do not show.
      expect(Math.hypot(own.first - other.first, own.second - other.second)).toBeLessThan(1e-6);
      expect(valueOf(read).base.code).toBe(named.base.code);
    },
  );

  it.each([
    ['another kind', UTM_10.replace('PROJCRS', 'GEOGCRS'), 'GEOGCRS is not read'],
    ['another method', UTM_10.replace('Transverse Mercator', 'Bonne'), 'method Bonne'],
    [
      'northings first',
      UTM_10.replace('"(E)",east', '"(N)",north').replace('"(N)",north,ORDER[2]', '"(E)",east,ORDER[2]'),
      'its axes',
    ],
    [
      'northings first by their order',
      UTM_10.replace('ORDER[1]', 'ORDER[0]').replace('ORDER[2]', 'ORDER[1]').replace('ORDER[0]', 'ORDER[2]'),
      'its axes',
    ],
    [
      'feet',
      UTM_10.replace('ORDER[2]],\n    LENGTHUNIT["metre",1.0]', 'ORDER[2]],\n    LENGTHUNIT["foot",0.3048]'),
      'its axes',
    ],
    ['another meridian', UTM_10.replace('"Greenwich",0', '"Paris",2.33722917'), 'Greenwich'],
    ['a parameter without unit', UTM_10.replace('500000.0,LENGTHUNIT["metre",1.0]', '500000.0'), 'units'],
    ['a parameter missing', UTM_10.replace(/\n.*False easting.*\n/u, '\n'), 'parameters'],
    [
      'a parameter too many',
      UTM_10.replace(
        'METHOD["Transverse Mercator"],',
        'METHOD["Transverse Mercator"],PARAMETER["Azimuth at projection centre",3,ANGLEUNIT["degree",0.0174532925199433]],',
      ),
      'parameters',
    ],
    ['no conversion', 'PROJCRS["A",CS[Cartesian,2]]', 'CONVERSION'],
    ['a bracket left open', UTM_10.slice(0, -1), 'balanced'],
    ['more behind it', `${UTM_10} x`, 'balanced'],
  ])('is refused, saying what: %s', (_, text, words) => {
    const read = definitionFromWkt(text);
    expect(read.ok).toBe(false);
    expect(read.problems.map(({ message }) => message).join()).toContain(words);
  });

  it('is refused where its ellipsoid is not that of the system it names', () => {
    const text = UTM_10.replace('"Greenwich",0]]', '"Greenwich",0],ID["EPSG",4269]]');
    expect(valueOf(loadGridSystem(text)).base.code).toBe('EPSG:4269');
    const wrong = loadGridSystem(
      text.replace('"GRS 1980",6378137,298.257222101', '"Airy 1830",6377563.396,299.3249646'),
    );
    expect(wrong.ok).toBe(false);
    expect(wrong.problems.map(({ code }) => code)).toEqual(['system-definition-invalid']);
  });

  it('is taken apart in time and depth that a text cannot run away with', () => {
    expect(parseWkt('A['.repeat(5000))).toBeNull();
    expect(parseWkt(`A["${'x'.repeat(200_000)}"]`)?.texts[0]).toHaveLength(200_000);
    expect(parseWkt('A("q""q",-1.5e3,east,B[2])')).toEqual({
      keyword: 'A',
      texts: ['q"q', 'east'],
      numbers: [-1500],
      nodes: [{ keyword: 'B', texts: [], numbers: [2], nodes: [] }],
    });
  });
});
