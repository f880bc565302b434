import { describe, expect, it } from 'vitest';
import type { SiteDocument } from '../../../src/core/adjustment/site/site-document.js';
import { createSiteApplier } from '../../../src/tasks/site/apply-site.js';

// A shift of (1000, 2000): the square of 100 m about the origin of the grid lies at 1000, 2000 on the site.
const axes = { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 };
const corner = (eastM: number, northM: number): object => ({ eastM, northM });
const SITE = {
  transform: {
    horizontal: { sourceOrigin: corner(0, 0), targetOrigin: corner(1000, 2000), scale: 1, rotationRad: 0 },
    horizontalCovariance: Array.from({ length: 16 }, () => 0),
    hull: [corner(0, 0), corner(100, 0), corner(100, 100), corner(0, 100)],
    ...{ vertical: null, verticalCovariance: null, verticalHull: null },
  },
  ...{ sourceAxes: axes, siteAxes: axes, bufferM: 10 },
} as unknown as SiteDocument;

describe('a point that is taken through a site the wrong way', () => {
  const hintOf = (direction: 'to-site' | 'from-site', first: number, second: number): string | undefined => {
    const result = createSiteApplier(SITE, { direction, extrapolate: false })({ first, second, heightM: null });
    return result.ok ? 'inside' : result.problems[0]?.hint;
  };

  it('is asked for the other one where it lies inside the control so', () => {
    expect(hintOf('to-site', 50, 50)).toBe('inside');
    expect(hintOf('to-site', 1050, 2050)).toMatch(/--inverse takes points of the site back/u);
    expect(hintOf('from-site', 1050, 2050)).toBe('inside');
    expect(hintOf('from-site', 50, 50)).toMatch(/without --inverse/u);
  });

  it('is asked for more control where it lies outside in both', () => {
    expect(hintOf('to-site', 5000, 50)).toMatch(/add control beyond the point/u);
    expect(hintOf('from-site', 5000, 50)).toMatch(/add control beyond the point/u);
  });
});
