import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readGeojsonFixes } from '../../src/io/geojson/geojson-read.js';
import { readGeojsonTable } from '../../src/io/geojson/geojson-table.js';
import { createGeojsonWriter } from '../../src/io/geojson/geojson-write.js';
import type { FixBlock, FixInput } from '../../src/io/tables/fixes/fixes-read.js';
import type { Outcome } from '../../src/records/outcome.js';
import { all, codes, stdinSource, value } from './support.js';

const point = (coordinates: unknown, properties: unknown, more: object = {}): object => ({
  type: 'Feature',
  geometry: { type: 'Point', coordinates },
  properties,
  ...more,
});
const collection = (...features: unknown[]): string => JSON.stringify({ type: 'FeatureCollection', features });

async function open(text: string): Promise<Outcome<FixInput>> {
  const toGeodetic = (): never => {
    throw new Error('not geocentric');
  };
  return readGeojsonFixes(await stdinSource(text), { sourceIndex: 0, mapping: {}, toGeodetic });
}

async function blocks(text: string): Promise<FixBlock[]> {
  return (await all(value(await open(text)).blocks())).map(value);
}

describe('readGeojsonFixes', () => {
  it('reads longitude, latitude and height, properties by our names, and passes the rest through', async () => {
    const text = collection(
      point([21.4, -31.5, 1043.2], { point_id: '007', solution: 'fixed', pdop: 1.5, crew: 3 }),
      point([21.5, -31.6, 1000], { point_id: 'B', note: null, extra: { a: 1 } }),
    );
    const [block] = await blocks(text);
    expect(block?.fixes).toMatchObject([
      {
        pointId: '007',
        geodetic: { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 },
        solution: 'fixed',
        pdop: 1.5,
        passThrough: ['3', '', ''],
      },
      { pointId: 'B', note: '', passThrough: ['', '', '{"a":1}'] },
    ]);
    expect(value(await open(text)).passThroughNames).toEqual(['crew', 'note', 'extra']);
  });

  it("takes the position from the geometry, and the feature's id for the point", async () => {
    const [block] = await blocks(collection(point([1, 2, 3], { latitude_deg: 2.00000001 }, { id: 'P' })));
    expect(block?.fixes).toMatchObject([{ pointId: 'P', geodetic: { latitudeDeg: 2, longitudeDeg: 1 } }]);
  });

  // Geodesics on the ellipsoid of WGS 84 by GeodSolve -i (GeographicLib), less 1.4 mm from arc to chord and with 5 mm for the 3 m of height.
  it.each([
    [{ latitude_deg: 2.1 }, '11057.574 m apart'],
    [{ longitude_deg: '1.000001' }, '0.111 m apart'],
    [{ latitude_deg: '2 00 01' }, '30.715 m apart'],
    [{ ellipsoidal_height_m: 4 }, '1.000 m apart in height'],
  ])('refuses properties that put the point elsewhere: %o', (properties, words) => {
    const table = readGeojsonTable(collection(point([1, 2, 3], { point_id: 'P', ...properties })), 'x.geojson');
    expect(table.ok ? '' : table.problems[0]?.code).toBe('position-mismatch');
    expect(table.ok ? '' : table.problems[0]?.message).toContain(words);
  });

  it('keeps the digits of numeric ids and properties', async () => {
    const text = collection(
      point([1, 2, 3], { point_id: '@' }),
      point([1, 2, 3], { point_id: '#', tag: '%' }),
      point([1, 2, 3], {}, { id: '&' }),
    )
      .replace('"@"', '20260304000000011')
      .replace('"#"', '20260304000000013')
      .replace('"%"', '12.50')
      .replace('"&"', '9007199254740993');
    const [block] = await blocks(text);
    expect(block?.fixes.map(({ pointId }) => pointId)).toEqual([
      '20260304000000011',
      '20260304000000013',
      '9007199254740993',
    ]);
    expect(block?.fixes[1]?.passThrough).toContain('12.50');
  });

  it.each([
    ['{"type":"FeatureCollection","features":[],"features":[]}', 'geojson-structure', 'stands twice'],
    [
      collection(point([1, 2, 3], { point_id: 'P' })).replace('"point_id"', '"code":"a","code":"b","point_id"'),
      'geojson-structure',
      '"code" stands twice',
    ],
    [
      collection(point([1, 2, 3], { point_id: 'P' })).replace('"point_id"', '"co\\u0064e":"a","code":"b","point_id"'),
      'geojson-structure',
      '"code" stands twice',
    ],
    [
      collection(point([1, 2, 3], { point_id: 'P' })).replace('"type":"Feature"', '"type":"Feature","crs":{}'),
      'geojson-crs',
      'its own coordinate system',
    ],
    [
      collection(point([1, 2, 3], { point_id: 'P' })).replace('"type":"Point"', '"type":"Point","crs":null'),
      'geojson-crs',
      'its own coordinate system',
    ],
    [collection(point([1, 2, 3], { point_id: 'P', crs: 'EPSG:4222' })), 'geojson-crs', 'its own coordinate system'],
  ])('refuses %s', (text, code, words) => {
    const table = readGeojsonTable(text, 'x.geojson');
    expect(table.ok ? '' : table.problems[0]?.code).toBe(code);
    expect(table.ok ? '' : table.problems[0]?.message).toContain(words);
  });

  it('places problems by their path, and gives the feature back', async () => {
    const bad = point([1, 95], { point_id: 'B', pdop: 'x' });
    const [, block] = await blocks(collection(point([1, 2, 3], { point_id: 'A' }), bad));
    expect(block?.rejected[0]?.raw).toBe(JSON.stringify(bad));
    expect(block?.rejected[0]?.problems.map((problem) => problem.where?.path)).toEqual([
      'features[1].properties.latitude_deg',
      'features[1].properties.ellipsoidal_height_m',
      'features[1].properties.pdop',
    ]);
    expect(block?.rejected[0]?.problems[0]?.where?.line).toBeUndefined();
  });

  it('gives back the row of a fix refused later', async () => {
    const second = point([4, 5, 6], { point_id: 'B' });
    const [block] = await blocks(collection(point([1, 2, 3], { point_id: 'A' }), second));
    const fix = block?.fixes[1];
    expect(fix === undefined ? '' : block?.rawOf(fix)).toBe(JSON.stringify(second));
  });

  it.each([
    ['{"type":"FeatureCollection",\n"features":[}', 'geojson-syntax'],
    ['[]', 'geojson-structure'],
    ['{"type":"Feature"}', 'geojson-structure'],
    [collection({ type: 'Feature', geometry: null, properties: {} }), 'geojson-structure'],
    [
      collection({ type: 'Feature', geometry: { type: 'LineString', coordinates: [] }, properties: {} }),
      'geojson-structure',
    ],
    [collection(point([1], {})), 'geojson-structure'],
    [collection(point([1, '2'], {})), 'geojson-structure'],
    [collection(point([1, 2, 3, 4], {})), 'geojson-structure'],
    [collection(point([1, 2], [])), 'geojson-structure'],
    ['{"type":"FeatureCollection","features":[],"crs":null}', 'geojson-crs'],
  ])('refuses %s as %s', (text, code) => {
    expect(codes(readGeojsonTable(text, 'a.geojson'))).toEqual([code]);
  });

  it('names the line of a syntax error', () => {
    expect(readGeojsonTable('{"type":\n\n}', 'a').problems[0]?.where?.line).toBe(3);
  });
});

describe('readGeojsonTable', () => {
  const header = (...features: unknown[]): readonly string[] =>
    value(readGeojsonTable(collection(...features), 'p.geojson')).header;

  it('reads another kind of height of the properties as that where no position has a height', () => {
    const orthometric = { point_id: 'A', orthometric_height_m: 158.5 };
    expect(header(point([13.7, 51.05], orthometric))).toEqual([
      'longitude_deg',
      'latitude_deg',
      'point_id',
      'orthometric_height_m',
    ]);
    // Of two kinds the ellipsoidal one counts, as in a table of text.
    expect(header(point([13.7, 51.05], orthometric), point([13.7, 51.05, 200], {}))).toContain('ellipsoidal_height_m');
    expect(header(point([13.7, 51.05], { point_id: 'A' }))).toContain('ellipsoidal_height_m');
  });
});

describe('readGeojsonFixes of exchanged positions', () => {
  it('says of a latitude beyond 90 that the longitude comes first, and names no headers', async () => {
    const [block] = await blocks(collection(point([-31.5, 121.4, 1000], { point_id: 'A' })));
    expect(block?.rejected[0]?.problems[0]).toMatchObject({
      code: 'coordinates-swapped',
      hint: 'mend the file: in GeoJSON the longitude comes first',
    });
  });
});

describe('createGeojsonWriter', () => {
  it('writes one feature a line, without crs, with heights and nulls', () => {
    const writer = createGeojsonWriter([
      { name: 'point_id', kind: 'text' },
      { name: 'easting_m', kind: 'number' },
    ]);
    const text =
      writer.begin() +
      writer.points([
        { longitudeDeg: 21.4, latitudeDeg: -31.5, ellipsoidalHeightM: 1043.25, cells: ['00"7', '-38000.1000'] },
      ]) +
      writer.points([{ longitudeDeg: 1, latitudeDeg: 2, ellipsoidalHeightM: null, cells: ['B', ''] }]) +
      writer.end();
    expect(text).toBe(
      '{"type":"FeatureCollection","features":[\n' +
        '{"type":"Feature","geometry":{"type":"Point","coordinates":[21.400000000,-31.500000000,1043.2500]},"properties":{"point_id":"00\\"7","easting_m":-38000.1000}},\n' +
        '{"type":"Feature","geometry":{"type":"Point","coordinates":[1.000000000,2.000000000]},"properties":{"point_id":"B","easting_m":null}}\n]}\n',
    );
  });

  it('writes an empty collection that is valid', () => {
    const writer = createGeojsonWriter([]);
    expect(JSON.parse(writer.begin() + writer.points([]) + writer.end())).toEqual({
      type: 'FeatureCollection',
      features: [],
    });
  });

  it('never writes what is no JSON number as one', () => {
    const writer = createGeojsonWriter([{ name: 'x_m', kind: 'number' }]);
    expect(() =>
      writer.points([{ longitudeDeg: 1, latitudeDeg: 2, ellipsoidalHeightM: null, cells: ['NaN'] }]),
    ).toThrow('x_m');
  });

  it('is read back to within half of the last decimal', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -500, max: 9000, noNaN: true }),
        fc.string(),
        (longitudeDeg, latitudeDeg, ellipsoidalHeightM, id) => {
          const writer = createGeojsonWriter([{ name: 'point_id', kind: 'text' }]);
          const text =
            writer.begin() +
            writer.points([{ longitudeDeg, latitudeDeg, ellipsoidalHeightM, cells: [id] }]) +
            writer.end();
          const document = JSON.parse(text) as {
            features: [
              { geometry: { coordinates: [number, number, number] }; properties: { point_id: string | null } },
            ];
          };
          const { geometry, properties } = document.features[0];
          expect(Math.abs(geometry.coordinates[0] - longitudeDeg)).toBeLessThanOrEqual(5.1e-10);
          expect(Math.abs(geometry.coordinates[1] - latitudeDeg)).toBeLessThanOrEqual(5.1e-10);
          expect(Math.abs(geometry.coordinates[2] - ellipsoidalHeightM)).toBeLessThanOrEqual(5.1e-5);
          expect(properties.point_id ?? '').toBe(id);
        },
      ),
    );
  });
});
