import { describe, expect, it } from 'vitest';
import { fitHeights } from '../../../../src/core/adjustment/fit-heights.js';
import { fitSimilarity } from '../../../../src/core/adjustment/fit-similarity.js';
import {
  outsideControlM,
  siteHeightShiftM,
  siteSigma,
  transformBack,
  transformToSite,
} from '../../../../src/core/adjustment/site/site-transform.js';
import type { SiteTransform } from '../../../../src/core/adjustment/site/site-transform.js';
import { convexHull } from '../../../../src/core/adjustment/convex-hull.js';
import { fromEastNorth, toEastNorth } from '../../../../src/core/adjustment/site/site-axes.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { PLACES, sitePoints } from '../simulate.js';

function site(): SiteTransform {
  const fit = fitSimilarity(sitePoints(seededRandom(1)), null);
  if (typeof fit === 'string') throw new Error(fit);
  const heights = fitHeights(
    PLACES.map((place, index) => ({ place, differenceM: 0.1 + 0.01 * index, varianceM2: 4e-4 })),
    true,
    fit.similarity.sourceOrigin,
  )!;
  const hull = convexHull(PLACES);
  return {
    horizontal: fit.similarity,
    horizontalCovariance: fit.cofactor,
    vertical: heights.plane,
    verticalCovariance: heights.cofactor,
    hull,
    verticalHull: hull,
  };
}

describe('a site', () => {
  it('moves a point there and back a hundred times without drifting by a micrometre', () => {
    const { horizontal } = site();
    let place = { eastM: 12_345.678, northM: 21_098.765 };
    for (let i = 0; i < 100; i += 1) place = transformBack(horizontal, transformToSite(horizontal, place));
    expect(Math.hypot(place.eastM - 12_345.678, place.northM - 21_098.765)).toBeLessThan(1e-6);
  });

  it('has a sigma that is least in the middle of the control and grows in every direction', () => {
    const found = site();
    const { sourceOrigin } = found.horizontal;
    for (const [e, n] of [
      [1, 0],
      [0, 1],
      [-1, 0.5],
    ] as const) {
      const sigmas = [0, 1000, 3000, 10_000, 30_000].map((r) =>
        siteSigma(found, { eastM: sourceOrigin.eastM + r * e, northM: sourceOrigin.northM + r * n }),
      );
      sigmas.slice(1).forEach((sigma, index) => {
        expect(Math.hypot(sigma.eastM, sigma.northM)).toBeGreaterThan(
          Math.hypot(sigmas[index]!.eastM, sigmas[index]!.northM),
        );
        if (index > 0) expect(sigma.heightM!).toBeGreaterThan(sigmas[index]!.heightM!);
      });
    }
  });

  it('has a sigma in plan of √(1/n + r²/S) where all points weigh the same', () => {
    const points = sitePoints(null).map((point) => ({
      ...point,
      sourceCovariance: { xx: 0, xy: 0, yy: 0 },
      targetCovariance: { xx: 1e-4, xy: 0, yy: 1e-4 },
    }));
    const fit = fitSimilarity(points, null);
    if (typeof fit === 'string') throw new Error(fit);
    const { sourceOrigin } = fit.similarity;
    const s = PLACES.reduce(
      (sum, place) => sum + (place.eastM - sourceOrigin.eastM) ** 2 + (place.northM - sourceOrigin.northM) ** 2,
      0,
    );
    const found: SiteTransform = { ...site(), horizontal: fit.similarity, horizontalCovariance: fit.cofactor };
    for (const r of [0, 2000, 9000]) {
      const sigma = siteSigma(found, { eastM: sourceOrigin.eastM + r, northM: sourceOrigin.northM });
      expect(sigma.eastM / (0.01 * Math.sqrt(1 / PLACES.length + (r * r) / s))).toBeCloseTo(1, 3);
      expect(sigma.northM / sigma.eastM).toBeCloseTo(1, 6);
    }
  });

  it('is left by the distance to the nearer of its hulls, whichever is exceeded more', () => {
    const found = site();
    expect(outsideControlM(found, { eastM: 11_500, northM: 22_000 })).toBe(0);
    const far = { eastM: 20_000, northM: 23_000 };
    const inPlan = outsideControlM({ ...found, verticalHull: null }, far);
    expect(inPlan).toBeGreaterThan(6000);
    expect(outsideControlM({ ...found, verticalHull: [PLACES[0]!] }, far)).toBeGreaterThan(inPlan);
  });

  it('adds nothing to heights where they are not fitted', () => {
    expect(
      siteHeightShiftM(
        { ...site(), vertical: null, verticalCovariance: null, verticalHull: null },
        { eastM: 0, northM: 0 },
      ),
    ).toBeNull();
    expect(
      siteSigma({ ...site(), vertical: null, verticalCovariance: null }, { eastM: 0, northM: 0 }).heightM,
    ).toBeNull();
  });
});

describe('axes of a site', () => {
  it('turn westings and southings in feet into metres east and north, and back', () => {
    const axes = { columns: ['westing_us_survey_ft', 'southing_us_survey_ft'], metresPerUnit: 1200 / 3937 } as const;
    const place = toEastNorth(axes, 3937, -7874);
    expect([place.eastM, place.northM]).toEqual([-1200, 2400]);
    expect(fromEastNorth(axes, place)).toEqual({ first: 3937, second: -7874 });
    expect(toEastNorth({ columns: ['easting_m', 'northing_m'], metresPerUnit: 1 }, 5, 6)).toEqual({
      eastM: 5,
      northM: 6,
    });
  });
});
