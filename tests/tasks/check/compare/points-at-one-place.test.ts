import { describe, expect, it } from 'vitest';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import type { PlacedPoint } from '../../../../src/tasks/check/judge/check-tolerances-setup.js';
import { groupById, groupByPlace } from '../../../../src/tasks/check/compare/check-tolerances-groups.js';

type Made = readonly [id: string, firstM: number, secondM: number];

const placed = (points: readonly Made[]): readonly PlacedPoint[] =>
  points.map(
    ([pointId, firstM, secondM], index) =>
      ({
        firstM,
        secondM,
        latitudeDeg: null,
        longitudeDeg: null,
        row: { pointId, place: { sourceIndex: 0, line: index + 2 } },
      }) as unknown as PlacedPoint,
  );
const grouped = (points: readonly Made[], distanceM: number): unknown => {
  const found = groupByPlace(placed(points), distanceM, 'points.csv');
  return found.ok ? found.value : found.problems.map(({ message, where }) => `${String(where?.line)} ${message}`);
};

describe('points at one place', () => {
  it.each<readonly [string, readonly Made[], number, readonly (readonly number[])[]]>([
    [
      'those within the distance of the first',
      [
        ['A', 0, 0],
        ['A', 0.3, 0.4],
        ['B', 9, 9],
        ['A', 0, 0.5],
      ],
      0.5,
      [[0, 1, 3], [2]],
    ],
    // Cells of the search begin at multiples of the distance.
    [
      'those across the borders of cells, either way',
      [
        ['A', 0.99, 0.99],
        ['A', 1.01, 1.01],
        ['B', 4.99, 5.01],
        ['B', 5.01, 4.99],
      ],
      1,
      [
        [0, 1],
        [2, 3],
      ],
    ],
    [
      'those on both sides of nothing',
      [
        ['A', -0.01, 0.01],
        ['A', 0.01, -0.01],
      ],
      0.1,
      [[0, 1]],
    ],
    [
      'those at the very same place, where no distance is allowed',
      [
        ['A', 5, 5],
        ['A', 5, 5],
        ['B', 5, 6],
      ],
      0,
      [[0, 1], [2]],
    ],
    ['none', [], 1, []],
  ])('are %s', (_, points, distanceM, expected) => {
    expect(grouped(points, distanceM)).toEqual(expected);
  });

  it('have one name, and a name has one place', () => {
    expect(
      grouped(
        [
          ['A', 0, 0],
          ['B', 0.1, 0],
        ],
        0.5,
      ),
    ).toEqual(['3 B stands where A does']);
    expect(
      grouped(
        [
          ['A', 0, 0],
          ['A', 0.51, 0],
        ],
        0.5,
      ),
    ).toEqual(['3 A stands at two places farther apart than the distance stated']);
    expect(
      grouped(
        [
          ['A', 0, 0],
          ['A', 0.49, 0],
        ],
        0.5,
      ),
    ).toEqual([[0, 1]]);
  });

  it('are found in degrees where there is no grid: a metre of latitude, and of longitude at its latitude', () => {
    const at = (latitudeDeg: number, longitudeDeg: number): PlacedPoint =>
      ({ ...placed([['A', 0, 0]])[0], firstM: null, secondM: null, latitudeDeg, longitudeDeg }) as PlacedPoint;
    // A metre of the meridian is some 9.0e-6°; at 60° a metre of the parallel is twice as many degrees as at the equator.
    const isOne = (...points: readonly PlacedPoint[]): boolean => groupByPlace(points, 1, '').ok;
    expect([isOne(at(60, 10), at(60 + 8.8e-6, 10)), isOne(at(60, 10), at(60 + 9.2e-6, 10))]).toEqual([true, false]);
    expect([isOne(at(60, 10), at(60, 10 + 17.6e-6)), isOne(at(60, 10), at(60, 10 + 18.4e-6))]).toEqual([true, false]);
    expect([isOne(at(0, 10), at(0, 10 + 8.8e-6)), isOne(at(0, 10), at(0, 10 + 9.2e-6))]).toEqual([true, false]);
  });

  it('are as well those of one name, in the order of their first rows', () => {
    const rows = ['B', 'A', 'B', 'C', 'A'].map((pointId) => ({ pointId }) as PointRow);
    expect(groupById(rows)).toEqual([[0, 2], [1, 4], [3]]);
  });
});
