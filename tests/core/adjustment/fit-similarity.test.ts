import { describe, expect, it } from 'vitest';
import { fitSimilarity } from '../../../src/core/adjustment/fit-similarity.js';
import type { SimilarityFit, SimilarityPoint } from '../../../src/core/adjustment/fit-similarity.js';
import { residualLimits, residualTests } from '../../../src/core/adjustment/residual-tests.js';
import { transformToSite } from '../../../src/core/adjustment/site/site-transform.js';
import { varianceFactor } from '../../../src/core/adjustment/variance-factor.js';
import { seededRandom } from '../../support/seeded-random.js';
import { PLACES, TRUE_ROTATION_RAD, TRUE_SCALE, sitePoints, trueTarget } from './simulate.js';

function fitOf(points: readonly SimilarityPoint[], scale: number | null = null): SimilarityFit {
  const fit = fitSimilarity(points, scale);
  if (typeof fit === 'string') throw new Error(fit);
  return fit;
}

describe('fitSimilarity', () => {
  it('recovers a similarity exactly from points without noise', () => {
    const { similarity, adjustment } = fitOf(sitePoints(null));
    expect(similarity.scale).toBeCloseTo(TRUE_SCALE, 12);
    expect(similarity.rotationRad).toBeCloseTo(TRUE_ROTATION_RAD, 12);
    for (const residual of adjustment.residuals) expect(Math.abs(residual)).toBeLessThan(1e-8);
    for (const place of PLACES) {
      const [found, wanted] = [transformToSite(similarity, place), trueTarget(place)];
      expect(Math.hypot(found.eastM - wanted.eastM, found.northM - wanted.northM)).toBeLessThan(1e-8);
    }
  });

  it('recovers any rotation, half a turn too, and coordinates of millions', () => {
    for (const rotation of [0, 1, 3.1, -3.1, Math.PI / 2, Math.PI, -2]) {
      const points = sitePoints(null).map((point) => {
        const { eastM: x, northM: y } = point.source;
        return {
          ...point,
          source: { eastM: x + 2.5e6, northM: y + 7e6 },
          target: {
            eastM: 0.9997 * (x * Math.cos(rotation) - y * Math.sin(rotation)),
            northM: 5e6 + 0.9997 * (x * Math.sin(rotation) + y * Math.cos(rotation)),
          },
        };
      });
      const { similarity, adjustment } = fitOf(points);
      expect(Math.cos(similarity.rotationRad - rotation)).toBeCloseTo(1, 14);
      expect(similarity.scale).toBeCloseTo(0.9997, 11);
      for (const residual of adjustment.residuals) expect(Math.abs(residual)).toBeLessThan(1e-7);
    }
  });

  it('has no answer without two places, or without a weight', () => {
    const [first] = sitePoints(null);
    if (first === undefined) throw new Error('no point');
    expect(fitSimilarity([first], null)).toBe('undetermined');
    expect(fitSimilarity([first, first], null)).toBe('undetermined');
    const nothing = { xx: 0, xy: 0, yy: 0 };
    const exact = sitePoints(null).map((point) => ({ ...point, sourceCovariance: nothing, targetCovariance: nothing }));
    expect(fitSimilarity(exact, null)).toBe('undetermined');
    const oneWay = sitePoints(null).map((point) => ({
      ...point,
      sourceCovariance: nothing,
      targetCovariance: { xx: 1e-4, xy: 0, yy: 0 },
    }));
    expect(fitSimilarity(oneWay, 1)).toBe('undetermined');
  });

  it('does not settle on a figure and its mirror image', () => {
    const unit = { xx: 1e-4, xy: 0, yy: 1e-4 };
    const points = [
      [10, 0],
      [-10, 0],
      [0, 10],
      [0, -10],
    ].map(([eastM = 0, northM = 0]) => ({
      source: { eastM, northM },
      target: { eastM: -eastM, northM },
      sourceCovariance: unit,
      targetCovariance: unit,
    }));
    expect(fitSimilarity(points, null)).toBe('no-convergence');
  });

  it('agrees with the closed form where all weights are equal', () => {
    const random = seededRandom(11);
    const unit = { xx: 0, xy: 0, yy: 0 };
    const points = sitePoints(random).map((point) => ({
      ...point,
      sourceCovariance: unit,
      targetCovariance: { xx: 1, xy: 0, yy: 1 },
    }));
    const n = points.length;
    const mean = (of: (point: SimilarityPoint) => number): number =>
      points.reduce((sum, point) => sum + of(point), 0) / n;
    const [x0, y0, u0, v0] = [
      mean((p) => p.source.eastM),
      mean((p) => p.source.northM),
      mean((p) => p.target.eastM),
      mean((p) => p.target.northM),
    ];
    let [a, b, s] = [0, 0, 0];
    for (const { source, target } of points) {
      const [x, y, u, v] = [source.eastM - x0, source.northM - y0, target.eastM - u0, target.northM - v0];
      a += x * u + y * v;
      b += x * v - y * u;
      s += x * x + y * y;
    }
    const { similarity, cofactor, adjustment, equations } = fitOf(points);
    expect(similarity.scale).toBeCloseTo(Math.hypot(a, b) / s, 13);
    expect(similarity.rotationRad).toBeCloseTo(Math.atan2(b, a), 13);
    // Leverage 1/n + r²/S, and the parameters' cofactors 1/n and 1/S.
    expect(cofactor[0]).toBeCloseTo(1 / n, 12);
    expect(cofactor[15]).toBeCloseTo(1 / s, 15);
    const tests = residualTests(equations, adjustment);
    points.forEach(({ source }, index) => {
      const leverage = 1 / n + ((source.eastM - x0) ** 2 + (source.northM - y0) ** 2) / s;
      expect(tests[2 * index]!.redundancy).toBeCloseTo(1 - leverage, 9);
      expect(tests[2 * index + 1]!.leftOut! * (1 - leverage)).toBeCloseTo(tests[2 * index + 1]!.residual, 9);
    });
  });

  it('keeps a stated scale, and gives it no uncertainty', () => {
    const { similarity, scaleIsFree, cofactor, adjustment } = fitOf(sitePoints(null), TRUE_SCALE);
    expect([similarity.scale, scaleIsFree]).toEqual([TRUE_SCALE, false]);
    expect(cofactor.slice(12)).toEqual([0, 0, 0, 0]);
    expect(adjustment.redundancy).toBe(13);
    expect(similarity.rotationRad).toBeCloseTo(TRUE_ROTATION_RAD, 12);
  });

  it('has residuals that a point left out confirms when it is really left out', () => {
    const points = sitePoints(seededRandom(5));
    const { equations, adjustment } = fitOf(points);
    const tests = residualTests(equations, adjustment);
    points.forEach((point, index) => {
      const without = fitOf(points.filter((_, other) => other !== index)).similarity;
      const predicted = transformToSite(without, point.source);
      expect(tests[2 * index]!.leftOut).toBeCloseTo(predicted.eastM - point.target.eastM, 6);
      expect(tests[2 * index + 1]!.leftOut).toBeCloseTo(predicted.northM - point.target.northM, 6);
    });
  });

  it('has redundancies that add up to the redundancy of the fit', () => {
    const { equations, adjustment } = fitOf(sitePoints(seededRandom(6)));
    const sum = residualTests(equations, adjustment).reduce((total, test) => total + test.redundancy, 0);
    expect(sum).toBeCloseTo(adjustment.redundancy, 9);
  });

  it('has no answer for one point, or for places that coincide', () => {
    const [first, second] = sitePoints(null);
    expect(fitSimilarity([first!], null)).toBe('undetermined');
    expect(fitSimilarity([first!, { ...second!, source: first!.source }], null)).toBe('undetermined');
  });

  it('has an exact answer without any check for two points', () => {
    const { equations, adjustment } = fitOf(sitePoints(seededRandom(4)).slice(0, 2));
    expect(adjustment.redundancy).toBe(0);
    for (const test of residualTests(equations, adjustment))
      expect([test.standardised, test.studentised, test.detectable, test.leftOut]).toEqual([null, null, null, null]);
    expect(varianceFactor(adjustment, false).factor95).toBeNull();
  });
});

describe('2,000 simulated sites', () => {
  const runs = 2000;
  const random = seededRandom(20_260_304);
  const covered = { shiftEast: 0, shiftNorth: 0, rotation: 0, scale: 0 };
  let flagged = 0;
  let points = 0;
  let exceeded = 0;
  for (let run = 0; run < runs; run += 1) {
    const fit = fitOf(sitePoints(random));
    const factor = varianceFactor(fit.adjustment, true);
    if (factor.isExceeded) exceeded += 1;
    const half = (i: number): number => factor.factor95! * Math.sqrt(factor.applied * fit.cofactor[i * 5]!);
    const { sourceOrigin, targetOrigin, rotationRad, scale } = fit.similarity;
    const wanted = trueTarget(sourceOrigin);
    if (Math.abs(targetOrigin.eastM - wanted.eastM) <= half(0)) covered.shiftEast += 1;
    if (Math.abs(targetOrigin.northM - wanted.northM) <= half(1)) covered.shiftNorth += 1;
    if (Math.abs(rotationRad - TRUE_ROTATION_RAD) <= half(2)) covered.rotation += 1;
    if (Math.abs(scale - TRUE_SCALE) <= half(3)) covered.scale += 1;
    const tests = residualTests(fit.equations, fit.adjustment);
    const limit = residualLimits(fit.adjustment).baarda;
    for (let i = 0; i < tests.length; i += 2) {
      points += 1;
      if (Math.abs(tests[i]!.standardised!) > limit || Math.abs(tests[i + 1]!.standardised!) > limit) flagged += 1;
    }
  }

  it('have 95 % intervals that hold the true parameter in 93 to 97 of 100', () => {
    for (const [name, count] of Object.entries(covered)) {
      expect(count / runs, name).toBeGreaterThanOrEqual(0.93);
      expect(count / runs, name).toBeLessThanOrEqual(0.97);
    }
  });

  it("flag at most 0.3 % of clean points by Baarda's test at 0.001 a coordinate", () => {
    expect(flagged / points).toBeLessThanOrEqual(0.003);
    expect(flagged).toBeGreaterThan(0);
  });

  it('exceed the limit of the variance factor in about 5 of 100', () => {
    expect(exceeded / runs).toBeGreaterThan(0.035);
    expect(exceeded / runs).toBeLessThan(0.065);
  });
});

describe('a blunder of five sigma with redundancy 0.7', () => {
  const random = seededRandom(77);
  const runs = 2000;
  // Six points with equal weights: two of them with redundancy near 0.7 in east.
  const places = [
    { eastM: 0, northM: 0 },
    { eastM: 2000, northM: 0 },
    { eastM: 2000, northM: 2000 },
    { eastM: 0, northM: 2000 },
    { eastM: 1000, northM: 2300 },
    { eastM: 1000, northM: 900 },
  ];
  let found = 0;
  let largest = 0;
  let redundancy = 0;
  for (let run = 0; run < runs; run += 1) {
    const points = places.map((place, index) => ({
      source: { eastM: place.eastM + 0.01 * random.normal(), northM: place.northM + 0.01 * random.normal() },
      target: { eastM: place.eastM + (index === 4 ? 0.05 : 0), northM: place.northM },
      sourceCovariance: { xx: 1e-4, xy: 0, yy: 1e-4 },
      targetCovariance: { xx: 0, xy: 0, yy: 0 },
    }));
    const fit = fitOf(points);
    const tests = residualTests(fit.equations, fit.adjustment);
    redundancy = tests[8]!.redundancy;
    const sizes = tests.map((test) => Math.abs(test.standardised!));
    if (sizes[8]! > residualLimits(fit.adjustment).baarda) found += 1;
    if (sizes[8] === Math.max(...sizes)) largest += 1;
  }

  it('has that redundancy', () => {
    expect(Math.abs(redundancy - 0.7)).toBeLessThan(0.01);
  });

  it('is flagged, and has the largest value, in most runs', () => {
    // A normal deviate about 5 √r exceeds 3.29 in 0.818 of all runs; three sigma of 2,000 runs are 0.026.
    expect(Math.abs(found / runs - 0.818)).toBeLessThan(0.026);
    expect(largest / runs).toBeGreaterThan(0.9);
  });
});
