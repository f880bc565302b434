import { describe, expect, it } from 'vitest';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import type { Station } from '../../../src/records/points/point-join.js';
import { joinLines } from '../../../src/tasks/join/join-lines.js';
import type { LinesAsked } from '../../../src/tasks/join/join-lines.js';
import { measureFigures } from '../../../src/tasks/join/measure-figures.js';
import { setOutPolars } from '../../../src/tasks/join/set-out-polars.js';
import { gridOf, valueOf } from '../../core/grid/systems.js';

const grid = gridOf('EPSG:2049');
const setup = { grid, geodesic: createGeodesic(grid.base.ellipsoid), geoid: null };

function station(pointId: string, latitudeDeg: number, longitudeDeg: number, line: number, occupation = ''): Station {
  const out = { first: 0, second: 0 };
  expect(grid.forward(latitudeDeg, longitudeDeg, out)).toBe('ok');
  return {
    pointId,
    occupation,
    latitudeDeg,
    longitudeDeg,
    gridFirst: out.first,
    gridSecond: out.second,
    ellipsoidalHeightM: 1000,
    orthometricHeightM: null,
    place: { sourceIndex: 0, line },
  };
}

const of = {
  source: 'points.csv',
  stations: [
    station('A', -31.5, 21.4, 2),
    station('B', -31.5, 21.41, 3),
    station('C', -31.51, 21.41, 4),
    station('D', -31.51, 21.4, 5, '1'),
    station('D', -31.51, 21.4, 6, '2'),
  ],
};

const linesOf = (asked: LinesAsked): readonly string[] =>
  valueOf(joinLines(asked, of, setup)).map(({ from, to }) => `${from.pointId}${to.pointId}${to.occupation}`);
const saidOf = (asked: LinesAsked, stations = of.stations): readonly string[] => {
  const joins = joinLines(asked, { ...of, stations }, setup);
  return joins.ok ? [] : joins.problems.map(({ code, where }) => `${code} ${String(where?.line ?? 0)}`);
};
const pairs = (...ids: readonly (readonly [string, string])[]): LinesAsked => ({
  kind: 'pairs',
  source: 'pairs.csv',
  pairs: ids.map(([fromId, toId], index) => ({ fromId, toId, place: { sourceIndex: 1, line: index + 2 } })),
});

describe('lines that a program asks for', () => {
  it('run from one point to another or to all others, by pairs, or from each point to the next', () => {
    expect(linesOf({ kind: 'from', fromId: 'A', toId: 'C' })).toEqual(['AC']);
    expect(linesOf({ kind: 'from', fromId: 'B', toId: null })).toEqual(['BA', 'BC', 'BD1', 'BD2']);
    expect(linesOf({ kind: 'consecutive' })).toEqual(['AB', 'BC', 'CD1', 'DD2']);
    expect(linesOf(pairs(['C', 'A'], ['A', 'D@2']))).toEqual(['CA', 'AD2']);
  });

  it('are refused with the line of every pair that names no point, or more than one', () => {
    expect(saidOf(pairs(['A', 'B'], ['X', 'A'], ['A', 'D'], ['b', 'A']))).toEqual([
      'value-unknown-id 3',
      'value-duplicate-id 4',
      'value-unknown-id 5',
    ]);
    expect(saidOf({ kind: 'from', fromId: 'D', toId: null })).toEqual(['value-duplicate-id 0']);
  });

  it('need two points', () => {
    expect(saidOf({ kind: 'consecutive' }, of.stations.slice(0, 1))).toEqual(['csv-empty 0']);
  });
});

describe('figures and polar lines that a program asks for', () => {
  it('are the same figure written closed or open', () => {
    const [open, closed] = valueOf(
      measureFigures(
        [
          ['A', 'B', 'C', 'D@1'],
          ['A', 'B', 'C', 'D@1', 'A'],
        ],
        of,
        setup,
      ),
    );
    expect(closed).toEqual(open);
    expect(open?.corners.map(({ pointId }) => pointId)).toEqual(['A', 'B', 'C', 'D']);
  });

  it('are set out from their own points, and every bad line is said', () => {
    const line = (fromId: string, at: number): Parameters<typeof setOutPolars>[0][number] => ({
      pointId: 'N',
      fromId,
      azimuthDeg: 90,
      gridBearingDeg: null,
      distanceM: 100,
      distanceKind: 'ellipsoidal',
      heightDifferenceM: null,
      place: { sourceIndex: 1, line: at },
    });
    const [polar] = valueOf(setOutPolars([line('A', 2)], 'polar.csv', of, setup));
    // The definition of the azimuth: due east at the known point, 100 m along the ellipsoid.
    const back = setup.geodesic.inverse(-31.5, 21.4, polar?.point.latitudeDeg ?? 0, polar?.point.longitudeDeg ?? 0);
    expect(back.distanceM).toBeCloseTo(100, 6);
    expect(back.azimuthDeg).toBeCloseTo(90, 6);
    const bad = setOutPolars([line('A', 2), line('X', 3), line('Y', 4)], 'polar.csv', of, setup);
    expect(bad.ok ? [] : bad.problems.map(({ where }) => `${where?.source ?? ''} ${String(where?.line)}`)).toEqual([
      'polar.csv 3',
      'polar.csv 4',
    ]);
  });
});
