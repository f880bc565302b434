import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexHull } from '../../../../src/core/adjustment/convex-hull.js';
import { siteAtWork } from '../../../../src/core/adjustment/site/site-at-work.js';
import { axesAtWork, fromEastNorth, toEastNorth } from '../../../../src/core/adjustment/site/site-axes.js';
import {
  outsideControlM,
  siteHeightShiftM,
  siteSigma,
  transformBack,
  transformToSite,
} from '../../../../src/core/adjustment/site/site-transform.js';
import type { SiteTransform } from '../../../../src/core/adjustment/site/site-transform.js';

const length = fc.double({ min: -2e5, max: 2e5, noNaN: true });
const place = fc.record({ eastM: length, northM: length });
const part = fc.double({ min: -1e-2, max: 1e-2, noNaN: true });
const hull = fc.array(place, { minLength: 1, maxLength: 9 }).map(convexHull);

const site: fc.Arbitrary<SiteTransform> = fc
  .record({
    horizontal: fc.record({
      sourceOrigin: place,
      targetOrigin: place,
      scale: fc.double({ min: 0.99, max: 1.01, noNaN: true }),
      rotationRad: fc.oneof(fc.constantFrom(0, Math.PI / 2), fc.double({ min: -3, max: 3, noNaN: true })),
    }),
    horizontalCovariance: fc.array(part, { minLength: 16, maxLength: 16 }),
    plane: fc.option(fc.record({ origin: place, offsetM: part, slopeEast: part, slopeNorth: part }), { nil: null }),
    verticalCovariance: fc.array(part, { minLength: 9, maxLength: 9 }),
    hull,
    other: fc.option(hull, { nil: null }),
  })
  .map(({ plane, other, verticalCovariance, ...own }) => ({
    ...own,
    vertical: plane,
    verticalCovariance: plane === null ? null : verticalCovariance,
    // Heights on all of the control, or on some of it.
    verticalHull: plane === null ? null : (other ?? own.hull),
  }));

// The source is the plain functions, a record for each place, which the tests beside this one hold to published examples and NumPy.
describe('siteAtWork', () => {
  it('gives of place after place what the plain functions give, to the last digit', () => {
    fc.assert(
      fc.property(site, fc.array(place, { minLength: 1, maxLength: 12 }), (own, places) => {
        const work = siteAtWork(own);
        // The places of the control itself lie on its sides.
        for (const one of [...places, ...own.hull, own.horizontal.sourceOrigin]) {
          expect(work.toSite(one)).toStrictEqual(transformToSite(own.horizontal, one));
          expect(work.toSource(one)).toStrictEqual(transformBack(own.horizontal, one));
          expect(work.heightShiftM(one)).toBe(siteHeightShiftM(own, one));
          expect(work.sigma(one)).toStrictEqual(siteSigma(own, one));
          expect(work.outsideM(one)).toBe(outsideControlM(own, one));
        }
      }),
      { numRuns: 300 },
    );
  });

  it('reads and writes pairs of any axes as the plain functions do', () => {
    const columns = fc.constantFrom(
      ['easting_m', 'northing_m'] as const,
      ['westing_m', 'southing_m'] as const,
      ['westing_ft', 'northing_ft'] as const,
    );
    fc.assert(
      fc.property(columns, fc.constantFrom(1, 0.3048, 1200 / 3937), place, ([first, second], metresPerUnit, one) => {
        const axes = { columns: [first, second] as const, metresPerUnit };
        const work = axesAtWork(axes);
        expect(work.toEastNorth(one.eastM, one.northM)).toStrictEqual(toEastNorth(axes, one.eastM, one.northM));
        expect(work.fromEastNorth(one)).toStrictEqual(fromEastNorth(axes, one));
      }),
    );
  });
});
