import { describe, expect, it } from 'vitest';
import { DEFAULT_DIALECT } from '../../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../../src/io/csv/csv-read.js';
import { geojsonPlace, readGeojsonTable } from '../../../../src/io/geojson/geojson-table.js';
import { readPoints } from '../../../../src/io/tables/points/points-read.js';
import type { PointInput, PointReadOptions } from '../../../../src/io/tables/points/points-read.js';
import type { Outcome } from '../../../../src/records/outcome.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import type { Problem } from '../../../../src/records/problem.js';
import { codes, stdinSource, value } from '../../support.js';

const NORTH = ['easting_m', 'northing_m'] as const;
const SOUTH = ['westing_m', 'southing_m'] as const;
const OPTIONS: PointReadOptions = {
  sourceIndex: 0,
  mapping: {},
  axes: NORTH,
  needs: { position: 'any', height: 'none' },
};

async function open(text: string, options: Partial<PointReadOptions> = {}): Promise<Outcome<PointInput>> {
  return readPoints(value(await readCsv(await stdinSource(text), DEFAULT_DIALECT)), { ...OPTIONS, ...options });
}

async function read(input: PointInput): Promise<{ points: PointRow[]; problems: Problem[] }> {
  const points: PointRow[] = [];
  const problems: Problem[] = [];
  for await (const block of input.blocks()) {
    points.push(...value(block).points);
    problems.push(...value(block).rejected.flatMap((row) => row.problems));
  }
  return { points, problems };
}

describe('readPoints', () => {
  it('refuses a grid pair in a unit that is not known by its name, where no system is stated', async () => {
    const outcome = await open('point_id,easting_ft,northing_ft\nA,1,2\n', { axes: null });
    expect(outcome.problems).toEqual([
      {
        code: 'csv-axes-mismatch',
        severity: 'error',
        message: 'the grid columns are easting_ft, northing_ft, in a unit that is not known by this name',
        where: { source: 'stdin', line: 1 },
        received: 'easting_ft,northing_ft',
        hint: 'name the unit in full, such as easting_us_survey_ft or easting_international_ft, or the system with --system',
      },
    ]);
    const known = value(await open('point_id,easting_clarkes_foot,northing_clarkes_foot\nA,1,2\n', { axes: null }));
    expect(known.axes).toEqual(['easting_clarkes_foot', 'northing_clarkes_foot']);
  });

  it('reads both positions and heights, leaves absent ones null and keeps unknown columns as text', async () => {
    const input = value(
      await open(
        'point_id,easting_m,northing_m,latitude_deg,longitude_deg,orthometric_height_m,sigma_east_m,crew\n007,1000.5,-2,25 30 00 S,21.5,1041.9,0.01, x \nB,1,2,,,,,\n',
      ),
    );
    const { points, problems } = await read(input);
    expect(problems).toEqual([]);
    expect(input.axes).toEqual(NORTH);
    expect(input.passThroughNames).toEqual(['crew']);
    expect(points[0]).toMatchObject({
      pointId: '007',
      gridFirst: 1000.5,
      gridSecond: -2,
      latitudeDeg: -25.5,
      longitudeDeg: 21.5,
      orthometricHeightM: 1041.9,
      ellipsoidalHeightM: null,
      sigmaEastM: 0.01,
      passThrough: [' x '],
      place: { sourceIndex: 0, line: 2 },
    });
    expect(points[1]).toMatchObject({
      gridFirst: 1,
      latitudeDeg: null,
      longitudeDeg: null,
      orthometricHeightM: null,
      role: null,
    });
  });

  it.each([
    ['a northing grid for a southing system', 'point_id,easting_m,northing_m\nA,1,2\n', SOUTH],
    ['a southing grid for a northing system', 'point_id,westing_m,southing_m\nA,1,2\n', NORTH],
    ['feet for metres', 'point_id,easting_us_survey_ft,northing_us_survey_ft\nA,1,2\n', NORTH],
    ['one axis of each', 'point_id,easting_m,southing_m\nA,1,2\n', NORTH],
  ])('refuses %s with a hint and never swaps', async (_, text, axes) => {
    const outcome = await open(text, { axes });
    expect(codes(outcome)).toEqual(['csv-axes-mismatch']);
    expect(outcome.problems[0]?.hint).toContain('--system');
  });

  it('takes the pair a header names when no system is stated', async () => {
    const input = value(await open('point_id,southing_m,westing_m\nA,2,1\n', { axes: null }));
    expect(input.axes).toEqual(SOUTH);
    expect((await read(input)).points[0]).toMatchObject({ gridFirst: 1, gridSecond: 2 });
  });

  it('refuses a bare height until it is mapped', async () => {
    expect(codes(await open('point_id,easting_m,northing_m,height\nA,1,2,3\n'))).toEqual(['height-kind-unstated']);
    const input = value(
      await open('point_id,easting_m,northing_m,height\nA,1,2,3\n', { mapping: { orthometric_height_m: 'height' } }),
    );
    expect((await read(input)).points[0]?.orthometricHeightM).toBe(3);
  });

  it('names the columns of a position or height that is needed and absent', async () => {
    expect(codes(await open('point_id,x\nA,1\n'))).toEqual(['csv-missing-column']);
    expect(
      codes(
        await open('point_id,latitude_deg,longitude_deg\nA,1,2\n', { needs: { position: 'grid', height: 'none' } }),
      ),
    ).toContain('csv-missing-column');
    const height = await open('point_id,easting_m,northing_m\nA,1,2\n', { needs: { position: 'any', height: 'any' } });
    expect(codes(height)).toEqual(['csv-missing-column']);
  });

  it('refuses half a position and a row without one, but not a point that was rejected', async () => {
    const input = value(
      await open('point_id,easting_m,northing_m,verdict\nA,1,,accepted\nB,,,accepted\nC,,,rejected\n'),
    );
    const { points, problems } = await read(input);
    expect(problems.map((problem) => [problem.code, problem.where?.line])).toEqual([
      ['value-missing', 2],
      ['value-missing', 3],
    ]);
    expect(points.map((point) => point.pointId)).toEqual(['C']);
  });

  it('passes computed columns through only when asked', async () => {
    const text = 'point_id,easting_m,northing_m,point_scale_factor,crew\nA,1,2,0.9996,x\n';
    expect(value(await open(text)).passThroughNames).toEqual(['crew']);
    expect(value(await open(text, { keepComputed: true })).passThroughNames).toEqual(['point_scale_factor', 'crew']);
  });

  it('reads GeoJSON points by the same names, with places as paths and points that have no place', async () => {
    const features = [
      {
        type: 'Feature',
        geometry: { type: 'Point', coordinates: [21.5, -31.5, 1000.25] },
        properties: { point_id: 'A', easting_m: 1, northing_m: 2, sigma_up_m: 'bad' },
      },
      { type: 'Feature', geometry: null, properties: { point_id: 'B', verdict: 'rejected' } },
      {
        type: 'Feature',
        geometry: { type: 'Point', coordinates: [21.5, -31.5, 1000.25] },
        properties: { point_id: 'C', easting_m: 1, northing_m: 2 },
      },
    ];
    const table = value(
      readGeojsonTable(JSON.stringify({ type: 'FeatureCollection', features }), 'p.geojson', 'allowed'),
    );
    const { points, problems } = await read(value(readPoints(table, { ...OPTIONS, place: geojsonPlace })));
    expect(problems.map((problem) => problem.where?.path)).toEqual(['features[0].properties.sigma_up_m']);
    expect(
      points.map((point) => [point.pointId, point.latitudeDeg, point.ellipsoidalHeightM, point.gridSecond]),
    ).toEqual([
      ['B', null, null, null],
      ['C', -31.5, 1000.25, 2],
    ]);
  });
});
