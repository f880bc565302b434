import { describe, expect, it } from 'vitest';
import { createCandidateAttributes } from '../../../src/io/tables/candidate-attributes.js';
import { createGeojsonShapeWriter } from '../../../src/io/geojson/geojson-shape-write.js';
import { readFeatures } from '../../../src/io/geojson/geojson-features.js';
import { readPlanGeometry } from '../../../src/io/geojson/plan-geometry-read.js';
import type { PlanGeometry } from '../../../src/io/geojson/plan-geometry-read.js';
import type { Outcome } from '../../../src/records/outcome.js';

const feature = (geometry: unknown, properties: unknown = {}): unknown => ({ type: 'Feature', geometry, properties });
const collection = (...features: unknown[]): string => JSON.stringify({ type: 'FeatureCollection', features });
const point = { type: 'Point', coordinates: [21, -31] };
const line = {
  type: 'LineString',
  coordinates: [
    [21, -31],
    [21.1, -31],
  ],
};

function planGeometry(text: string, source: string): Outcome<PlanGeometry> {
  const read = readFeatures(text, source);
  return read.ok ? readPlanGeometry(read.value.features, source) : read;
}

function codes(outcome: Outcome<unknown>): readonly string[] {
  return outcome.ok ? [] : outcome.problems.map(({ code, where }) => `${code} ${where?.path ?? ''}`);
}

describe('readPlanGeometry', () => {
  it('parts points from lines and areas, and names shapes by property, id or place', () => {
    const read = planGeometry(
      collection(
        feature(line, { point_id: 'road', tolerance_horizontal_m: 0.1 }),
        feature(point, { point_id: 'p' }),
        {
          ...(feature({
            type: 'MultiPolygon',
            coordinates: [
              [
                [
                  [0, 0],
                  [1, 0],
                  [1, 1],
                  [0, 0],
                ],
              ],
            ],
          }) as object),
          id: 7,
        },
        feature({
          type: 'MultiLineString',
          coordinates: [
            line.coordinates,
            [
              [359, 0],
              [2, 0],
            ],
          ],
        }),
      ),
      'w.geojson',
    );
    if (!read.ok) throw new Error(read.problems[0]?.message);
    expect(read.value.points?.header).toContain('point_id');
    expect(read.value.shapes.map(({ id, kind }) => `${id} ${kind}`)).toEqual(['road line', '7 area', 'feature-4 line']);
    expect(read.value.shapes[0]).toMatchObject({ toleranceHorizontalM: 0.1, toleranceVerticalM: null });
    expect(read.value.shapes[2]?.lines[1]?.[0]).toEqual({ latitudeDeg: 0, longitudeDeg: -1, ellipsoidalHeightM: null });
  });

  it('places a problem of a point at its own feature, whatever shapes stand before it', () => {
    const read = planGeometry(
      collection(
        feature(line, { point_id: 'road' }),
        feature(point),
        feature({ type: 'Point', coordinates: ['x', 1] }),
      ),
      'w.geojson',
    );
    expect(codes(read)).toEqual(['geojson-structure features[2].geometry.coordinates']);
  });

  it('refuses empty and mixed shapes, positions off the globe, and other geometries, each by its path', () => {
    const problems = (geometry: unknown, properties?: unknown): readonly string[] =>
      codes(planGeometry(collection(feature(geometry, properties)), 'w.geojson'));
    expect(problems({ type: 'Polygon', coordinates: [] })).toEqual([
      'geojson-structure features[0].geometry.coordinates',
    ]);
    expect(problems({ type: 'Polygon', coordinates: [[]] })).toEqual([
      'geojson-structure features[0].geometry.coordinates[0]',
    ]);
    expect(
      problems({
        type: 'LineString',
        coordinates: [
          [0, 0, 5],
          [1, 0],
        ],
      }),
    ).toEqual(['geojson-structure features[0].geometry.coordinates[1]']);
    expect(
      problems({
        type: 'LineString',
        coordinates: [
          [0, 95],
          [1, 0],
        ],
      }),
    ).toEqual(['latitude-out-of-range features[0].geometry.coordinates[0]']);
    expect(problems({ type: 'GeometryCollection', geometries: [] })).toEqual([
      'geojson-structure features[0].geometry',
    ]);
    expect(problems(line, { tolerance_vertical_m: 'low' })).toEqual([
      'value-not-a-number features[0].properties.tolerance_vertical_m',
    ]);
    expect(problems(line, { tolerance_vertical_m: -1 })).toEqual([
      'value-out-of-range features[0].properties.tolerance_vertical_m',
    ]);
    expect(
      codes(planGeometry(collection(feature(line, { point_id: 'a' }), feature(line, { point_id: 'a' })), 'w')),
    ).toEqual(['value-duplicate-id features[1]']);
    expect(codes(planGeometry('{', 'w'))).toEqual(['geojson-syntax ']);
  });
});

describe('createCandidateAttributes', () => {
  const read = (cells: readonly string[]): Outcome<unknown> =>
    createCandidateAttributes(
      ['Cellular', 'sky_score', 'cost'],
      'c.csv',
      false,
    )({ passThrough: cells, place: { sourceIndex: 1, line: 4 } });

  it('reads yes and no, numbers, and empty cells as not known', () => {
    expect(read(['Yes', '7', ''])).toMatchObject({ ok: true, value: { cellular: true, skyScore: 7, cost: null } });
    expect(read(['0', '', '12.5'])).toMatchObject({ ok: true, value: { cellular: false, skyScore: null, cost: 12.5 } });
  });

  it('says which cell cannot be read', () => {
    const bad = read(['maybe', 'high', '1']);
    expect(
      bad.ok ? [] : bad.problems.map(({ code, where }) => `${code} ${where?.line ?? 0} ${where?.column ?? ''}`),
    ).toEqual(['value-unknown-word 4 cellular', 'value-not-a-number 4 sky_score']);
  });
});

describe('createGeojsonShapeWriter', () => {
  it('writes one piece as a plain geometry, more as a multiple one, none as a feature without a place', () => {
    const writer = createGeojsonShapeWriter();
    const ring = [
      { latitudeDeg: 0, longitudeDeg: 0 },
      { latitudeDeg: 0, longitudeDeg: 1 },
      { latitudeDeg: 1, longitudeDeg: 1 },
      { latitudeDeg: 0, longitudeDeg: 0 },
    ];
    const text = [
      writer.begin(),
      writer.feature(
        { kind: 'areas', rings: [ring] },
        { role: 'ring', radius_m: { value: 1.00005, decimals: 4 }, gone: null },
      ),
      writer.feature({ kind: 'areas', rings: [ring, ring] }, {}),
      writer.feature({ kind: 'lines', lines: [ring] }, {}),
      writer.feature({ kind: 'lines', lines: [] }, {}),
      writer.feature({ kind: 'point', place: { latitudeDeg: -31, longitudeDeg: 21 }, ellipsoidalHeightM: 5 }, {}),
      writer.end(),
    ].join('');
    const { features } = JSON.parse(text) as {
      features: { geometry: { type: string; coordinates: unknown } | null; properties: Record<string, unknown> }[];
    };
    expect(features.map(({ geometry }) => geometry?.type)).toEqual([
      'Polygon',
      'MultiPolygon',
      'LineString',
      undefined,
      'Point',
    ]);
    expect(features[0]?.properties).toEqual({ role: 'ring', radius_m: 1.0001, gone: null });
    expect(features[4]?.geometry?.coordinates).toEqual([21, -31, 5]);
    expect(JSON.parse(createGeojsonShapeWriter().begin() + createGeojsonShapeWriter().end())).toEqual({
      type: 'FeatureCollection',
      features: [],
    });
  });
});
