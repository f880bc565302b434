import { describe, expect, it } from 'vitest';
import { convexHull, distanceOutsideHullM } from '../../../src/core/adjustment/convex-hull.js';
import { controlSpread } from '../../../src/core/adjustment/control-spread.js';
import { seededRandom } from '../../support/seeded-random.js';

const at = (eastM: number, northM: number): { readonly eastM: number; readonly northM: number } => ({ eastM, northM });
const SQUARE = [at(0, 0), at(10, 0), at(10, 10), at(0, 10)];

describe('convexHull', () => {
  it('keeps the corners, anticlockwise, and leaves out what is inside, twice there or on a side', () => {
    expect(convexHull([at(5, 5), at(10, 10), at(0, 0), at(10, 0), at(0, 10), at(5, 0), at(10, 10)])).toEqual(SQUARE);
  });

  it('is a line or a place where the points are', () => {
    expect(convexHull([at(1, 1), at(3, 3), at(2, 2)])).toEqual([at(1, 1), at(3, 3)]);
    expect(convexHull([at(4, 4), at(4, 4)])).toEqual([at(4, 4)]);
  });

  it('holds all the points it was made from', () => {
    const random = seededRandom(9);
    const points = Array.from({ length: 200 }, () => at(random.normal() * 100, random.normal() * 50));
    const hull = convexHull(points);
    for (const point of points) expect(distanceOutsideHullM(hull, point)).toBeLessThan(1e-9);
  });
});

describe('distanceOutsideHullM', () => {
  it('is zero inside and on the sides, and to the nearest side or corner outside', () => {
    expect(distanceOutsideHullM(SQUARE, at(3, 7))).toBe(0);
    expect(distanceOutsideHullM(SQUARE, at(10, 4))).toBe(0);
    expect(distanceOutsideHullM(SQUARE, at(4, -3))).toBe(3);
    expect(distanceOutsideHullM(SQUARE, at(13, 14))).toBe(5);
  });

  it('counts from a line or a place where the control is one', () => {
    expect(distanceOutsideHullM([at(0, 0), at(10, 0)], at(5, 2))).toBe(2);
    expect(distanceOutsideHullM([at(0, 0)], at(3, 4))).toBe(5);
  });
});

describe('controlSpread', () => {
  it('is 1 for a square and 0 for a line, wherever they lie', () => {
    expect(controlSpread(SQUARE.map(({ eastM, northM }) => at(eastM + 5e6, northM + 7e6))).eigenvalueRatio).toBeCloseTo(
      1,
      9,
    );
    expect(controlSpread([at(0, 0), at(1, 2), at(5, 10)]).eigenvalueRatio).toBeCloseTo(0, 12);
    expect(controlSpread([at(4, 4)])).toEqual({ centre: at(4, 4), eigenvalueRatio: 0, radiusM: 0 });
  });

  it('is the square of the ratio of the sides of a rectangle', () => {
    expect(controlSpread([at(0, 0), at(10, 0), at(10, 5), at(0, 5)]).eigenvalueRatio).toBeCloseTo(0.25, 12);
  });
});
