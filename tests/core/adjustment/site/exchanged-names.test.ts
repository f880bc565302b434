import { describe, expect, it } from 'vitest';
import { curvatureTest } from '../../../../src/core/adjustment/curvature-test.js';
import { exchangedNames } from '../../../../src/core/adjustment/site/exchanged-names.js';
import { fitHeights } from '../../../../src/core/adjustment/fit-heights.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { PLACES, trueTarget, TRUE_SCALE } from '../simulate.js';

const points = PLACES.map((source) => ({ source, target: trueTarget(source) }));
const exchanged = (i: number, j: number): typeof points =>
  points.map((point, index) => ({
    ...point,
    target: (index === i ? points[j] : index === j ? points[i] : point)?.target ?? point.target,
  }));

describe('exchangedNames', () => {
  it('names every two of eight points whose names were exchanged, with a free and a stated scale', () => {
    for (let i = 0; i < points.length; i += 1) {
      for (let j = i + 1; j < points.length; j += 1) {
        for (const scale of [null, TRUE_SCALE]) {
          const found = exchangedNames(exchanged(i, j), scale);
          expect(found?.cycles).toEqual([[i, j]]);
          expect(found?.rmsM).toBeLessThan(0.001);
        }
      }
    }
  });

  it('names two pairs of exchanged names, and three and four names in turn', () => {
    const put = (order: readonly number[]): typeof points =>
      points.map((point, index) => ({ ...point, target: points[order[index] ?? index]?.target ?? point.target }));
    const cases: readonly (readonly [readonly number[], readonly (readonly number[])[]])[] = [
      [
        [1, 0, 2, 3, 5, 4, 6, 7],
        [
          [0, 1],
          [4, 5],
        ],
      ],
      [
        [3, 1, 6, 0, 4, 5, 2, 7],
        [
          [0, 3],
          [2, 6],
        ],
      ],
      // The place of the second has the name of the first: the first belongs to where the third's name stands, and so on.
      [[1, 2, 0, 3, 4, 5, 6, 7], [[0, 2, 1]]],
      [[0, 1, 5, 3, 4, 7, 6, 2], [[2, 7, 5]]],
    ];
    for (const [order, cycles] of cases) {
      const found = exchangedNames(put(order), null);
      expect(found?.cycles).toEqual(cycles);
      expect(found?.rmsM).toBeLessThan(0.001);
    }
  });

  it('finds nothing where the names are right, where one point alone is far out, or where there are two points only', () => {
    expect(exchangedNames(points, null)).toBeNull();
    for (const [at, shift] of [
      [0, 3],
      [3, 40],
      [5, 600],
    ] as const) {
      expect(
        exchangedNames(
          points.map((point, index) =>
            index === at
              ? { ...point, target: { eastM: point.target.eastM + shift, northM: point.target.northM } }
              : point,
          ),
          null,
        ),
      ).toBeNull();
    }
    expect(exchangedNames(exchanged(0, 1).slice(0, 2), null)).toBeNull();
  });
});

describe('curvatureTest', () => {
  const heights = (
    bend: number,
    noise: number,
    seed: number,
    count = PLACES.length,
  ): ReturnType<typeof curvatureTest> => {
    const random = seededRandom(seed);
    const places = PLACES.slice(0, count);
    const differences = places.map((place) => ({
      place,
      differenceM: bend * ((place.eastM - 11_500) ** 2 + (place.northM - 21_900) ** 2) + noise * random.normal(),
      varianceM2: 1e-4,
    }));
    const fit = fitHeights(differences, true, { eastM: 11_500, northM: 21_900 });
    return fit === null ? null : curvatureTest(fit, places, true, 0.01);
  };

  it('says how far a bowl comes from the plane, whatever the noise of the weights', () => {
    const found = heights(2e-8, 0, 1);
    expect(found?.isCurved).toBe(true);
    expect(found?.statistic).toBeGreaterThan(found?.limit ?? Infinity);
    expect(found?.largestM).toBeGreaterThan(0.02);
  });

  it('is not curved where only noise is left, and not tested with four heights', () => {
    expect(heights(0, 0.01, 2)?.isCurved).toBe(false);
    expect(heights(2e-8, 0, 1, 4)).toBeNull();
  });
});
