import { describe, expect, it } from 'vitest';
import { weightedEnclosingCircle } from '../../../../src/core/planning/siting/weighted-enclosing-circle.js';

const solve = (
  points: readonly (readonly [number, number])[],
  ranges: readonly number[] = points.map(() => 1),
): ReturnType<typeof weightedEnclosingCircle> =>
  weightedEnclosingCircle(
    Float64Array.from(points, ([x]) => x),
    Float64Array.from(points, ([, y]) => y),
    Float64Array.from(ranges),
  );

describe('weightedEnclosingCircle', () => {
  it('is held by the two ends of points in line, whatever lies between', () => {
    const found = solve([
      [0, 0],
      [1, 1],
      [2, 2],
      [4, 4],
      [3, 3],
    ]);
    expect(found.x).toBeCloseTo(2, 12);
    expect(found.y).toBeCloseTo(2, 12);
    expect(found.ratio).toBeCloseTo(Math.hypot(2, 2), 12);
    expect([...found.support].sort()).toEqual([0, 3]);
  });

  it('is held by three points of a sharp triangle, at the centre of the circle through them', () => {
    const found = solve([
      [1, 0],
      [-0.5, Math.sqrt(3) / 2],
      [-0.5, -Math.sqrt(3) / 2],
      [0.2, 0.3],
    ]);
    expect(Math.hypot(found.x, found.y)).toBeCloseTo(0, 12);
    expect(found.ratio).toBeCloseTo(1, 12);
    expect(found.support).toHaveLength(3);
  });

  it('stands on points that coincide', () => {
    expect(
      solve(
        [
          [3, 4],
          [3, 4],
          [3, 4],
        ],
        [1, 2, 3],
      ),
    ).toMatchObject({ x: 3, y: 4, ratio: 0 });
  });

  it('divides the way between two by their ranges', () => {
    expect(
      solve(
        [
          [0, 0],
          [30, 0],
        ],
        [10, 20],
      ),
    ).toMatchObject({ x: 10, y: 0, ratio: 1 });
  });

  it('needs a point', () => {
    expect(() => solve([])).toThrow('needs a point');
  });
});
