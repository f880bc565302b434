import { describe, expect, it } from 'vitest';
import { crossingSides } from '../../../src/tasks/join/crossing-sides.js';
import type { PlaneCorner } from '../../../src/tasks/join/crossing-sides.js';
import { seededRandom } from '../../support/seeded-random.js';

const figure = (...corners: readonly (readonly [number, number])[]): readonly PlaneCorner[] =>
  corners.map(([gridFirst, gridSecond]) => ({ gridFirst, gridSecond }));

describe('sides of a figure that have a place in common', () => {
  it.each([
    ['none of a square', figure([0, 0], [0, 4], [4, 4], [4, 0]), null],
    ['none of a triangle', figure([0, 0], [0, 4], [4, 4]), null],
    ['none of one with a corner between two others', figure([0, 0], [2, 0], [4, 0], [4, 4]), null],
    ['the two that cross', figure([0, 0], [4, 4], [4, 0], [0, 4]), [0, 2]],
    ['the second and the last', figure([0, 0], [0, 4], [4, 0], [4, 4]), [1, 3]],
    ['one whose corner lies on another', figure([0, 0], [8, 0], [8, 8], [4, 0], [0, 8]), [0, 2]],
    ['one that ends on another', figure([4, 0], [8, 8], [8, 0], [0, 0], [0, 8]), [0, 2]],
    ['one that folds back', figure([0, 0], [4, 0], [2, 0], [2, 4]), [0, 1]],
    ['the last that folds back on the first', figure([0, 0], [4, 0], [4, 4], [2, 0]), [0, 2]],
    ['one without length', figure([0, 0], [0, 0], [4, 4]), [0, 1]],
    ['two that only stand in one line', figure([0, 0], [1, 0], [1, 5], [6, 5], [6, 0], [7, 0], [7, 9], [0, 9]), null],
  ] as const)('are %s', (_, corners, expected) => {
    expect(crossingSides(corners)).toEqual(expected);
  });

  it('are those that a search by small steps finds, of figures on whole numbers', () => {
    // Where two sides are one place is asked of fractions: on whole corners up to 4 all crossings are at fractions of small
    // denominators, found exactly by Cramer's rule in whole numbers.
    const random = seededRandom(5);
    const touch = (a: PlaneCorner, b: PlaneCorner, c: PlaneCorner, d: PlaneCorner): boolean => {
      const [rx, ry] = [b.gridFirst - a.gridFirst, b.gridSecond - a.gridSecond];
      const [sx, sy] = [d.gridFirst - c.gridFirst, d.gridSecond - c.gridSecond];
      const [qx, qy] = [c.gridFirst - a.gridFirst, c.gridSecond - a.gridSecond];
      const det = rx * sy - ry * sx;
      if (det !== 0) {
        const [t, u] = [(qx * sy - qy * sx) / det, (qx * ry - qy * rx) / det];
        return t >= 0 && t <= 1 && u >= 0 && u <= 1;
      }
      if (qx * ry - qy * rx !== 0) return false;
      // On one line: along it, by the product with the first side.
      const along = (p: PlaneCorner): number => (p.gridFirst - a.gridFirst) * rx + (p.gridSecond - a.gridSecond) * ry;
      const [low, high] = [Math.min(along(c), along(d)), Math.max(along(c), along(d))];
      return high >= 0 && low <= rx * rx + ry * ry;
    };
    let crossed = 0;
    for (let run = 0; run < 3000; run += 1) {
      const corners = Array.from({ length: 4 + (run % 2) }, () => ({
        gridFirst: random.index(5),
        gridSecond: random.index(5),
      }));
      const n = corners.length;
      // Neighbours always share a corner: here only figures whose sides have a length and do not fold back.
      const plain = corners.every((corner, i) => {
        const [next, after] = [corners[(i + 1) % n] as PlaneCorner, corners[(i + 2) % n] as PlaneCorner];
        const [ax, ay] = [corner.gridFirst - next.gridFirst, corner.gridSecond - next.gridSecond];
        const [bx, by] = [after.gridFirst - next.gridFirst, after.gridSecond - next.gridSecond];
        return ax * by - ay * bx !== 0;
      });
      if (!plain) continue;
      let expected: readonly [number, number] | null = null;
      for (let i = 0; i < n && expected === null; i += 1)
        for (let j = i + 2; j < n && expected === null; j += 1) {
          if (i === 0 && j === n - 1) continue;
          const at = (index: number): PlaneCorner => corners[index % n] as PlaneCorner;
          if (touch(at(i), at(i + 1), at(j), at(j + 1))) expected = [i, j];
        }
      if (expected !== null) crossed += 1;
      expect(crossingSides(corners)).toEqual(expected);
    }
    expect(crossed).toBeGreaterThan(300);
  });
});
