import { describe, expect, it } from 'vitest';
import { fitHeights, heightPlaneAtM } from '../../../src/core/adjustment/fit-heights.js';
import type { HeightFit, HeightPoint } from '../../../src/core/adjustment/fit-heights.js';
import { residualLimits, residualTests } from '../../../src/core/adjustment/residual-tests.js';
import { varianceFactor } from '../../../src/core/adjustment/variance-factor.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const ORIGIN = { eastM: 2000, northM: 3000 };

function heights(random: SeededRandom | null): readonly HeightPoint[] {
  return [
    [0, 0],
    [4000, 200],
    [4200, 5000],
    [300, 6100],
    [2100, 2900],
    [3500, 3600],
  ].map(([eastM = 0, northM = 0], index) => {
    const sigma = 0.01 + 0.003 * index;
    const difference = 0.321 + 12e-6 * (eastM - ORIGIN.eastM) - 7e-6 * (northM - ORIGIN.northM);
    return {
      place: { eastM, northM },
      differenceM: difference + (random === null ? 0 : sigma * random.normal()),
      varianceM2: sigma * sigma,
    };
  });
}

function fitOf(points: readonly HeightPoint[], inclined: boolean): HeightFit {
  const fit = fitHeights(points, inclined, ORIGIN);
  if (fit === null) throw new Error('undetermined');
  return fit;
}

describe('fitHeights', () => {
  it('recovers an inclined plane exactly from heights without noise', () => {
    const { plane } = fitOf(heights(null), true);
    expect(plane.offsetM).toBeCloseTo(0.321, 12);
    expect(plane.slopeEast).toBeCloseTo(12e-6, 15);
    expect(plane.slopeNorth).toBeCloseTo(-7e-6, 15);
    for (const point of heights(null)) expect(heightPlaneAtM(plane, point.place)).toBeCloseTo(point.differenceM, 12);
  });

  it('gives the weighted mean as a shift', () => {
    const points = heights(seededRandom(3));
    const weights = points.reduce((sum, point) => sum + 1 / point.varianceM2, 0);
    const mean = points.reduce((sum, point) => sum + point.differenceM / point.varianceM2, 0) / weights;
    const { plane, cofactor } = fitOf(points, false);
    expect(plane.offsetM).toBeCloseTo(mean, 14);
    expect(cofactor[0]).toBeCloseTo(1 / weights, 15);
    expect([plane.slopeEast, plane.slopeNorth]).toEqual([0, 0]);
  });

  it('has no answer for too few points, or for a plane through points on a line', () => {
    expect(fitHeights(heights(null).slice(0, 2), true, ORIGIN)).toBeNull();
    expect(fitHeights([], false, ORIGIN)).toBeNull();
    const line = [0, 1, 2, 3].map((i) => ({
      place: { eastM: 1000 * i, northM: 2000 * i },
      differenceM: 0,
      varianceM2: 1,
    }));
    expect(fitHeights(line, true, ORIGIN)).toBeNull();
  });

  it('covers the true parameters in 93 to 97 of 100 simulated fits, and flags at most 0.3 % of clean heights', () => {
    const random = seededRandom(515);
    const covered = [0, 0, 0];
    const truth = [0.321, 12e-6, -7e-6];
    let flagged = 0;
    for (let run = 0; run < 2000; run += 1) {
      const fit = fitOf(heights(random), true);
      const factor = varianceFactor(fit.adjustment, true);
      [fit.plane.offsetM, fit.plane.slopeEast, fit.plane.slopeNorth].forEach((value, i) => {
        if (Math.abs(value - truth[i]!) <= factor.factor95! * Math.sqrt(factor.applied * fit.cofactor[i * 4]!))
          covered[i]! += 1;
      });
      const limit = residualLimits(fit.adjustment).baarda;
      flagged += residualTests(fit.equations, fit.adjustment).filter(
        (test) => Math.abs(test.standardised!) > limit,
      ).length;
    }
    for (const count of covered) {
      expect(count / 2000).toBeGreaterThanOrEqual(0.93);
      expect(count / 2000).toBeLessThanOrEqual(0.97);
    }
    expect(flagged / 12_000).toBeLessThanOrEqual(0.003);
  });

  it('covers with Student’s t in 93 to 97 of 100 where sigmas are not stated', () => {
    const random = seededRandom(616);
    let covered = 0;
    for (let run = 0; run < 2000; run += 1) {
      const points = heights(null).map((point) => ({
        ...point,
        differenceM: point.differenceM + 0.02 * random.normal(),
        varianceM2: 1,
      }));
      const fit = fitOf(points, true);
      const factor = varianceFactor(fit.adjustment, false);
      if (Math.abs(fit.plane.offsetM - 0.321) <= factor.factor95! * Math.sqrt(factor.applied * fit.cofactor[0]!))
        covered += 1;
    }
    expect(covered / 2000).toBeGreaterThanOrEqual(0.93);
    expect(covered / 2000).toBeLessThanOrEqual(0.97);
  });

  for (const row of readReferenceTable('site-fit').filter(
    (candidate) => candidate.text('quantity') === 'plane-prediction',
  )) {
    it(`predicts from four corners with the sigma computed elsewhere: ${row.case}`, () => {
      const corners = [
        [0, 0],
        [10_000, 0],
        [10_000, 10_000],
        [0, 10_000],
      ].map(([eastM = 0, northM = 0]) => ({ place: { eastM, northM }, differenceM: 0, varianceM2: 1 }));
      const { cofactor } = fitHeights(corners, true, { eastM: 5000, northM: 5000 })!;
      const distance = row.number('distance_m');
      const variance = cofactor[0]! + distance * distance * cofactor[4]!;
      expect(Math.abs(Math.sqrt(variance) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    });
  }
});
