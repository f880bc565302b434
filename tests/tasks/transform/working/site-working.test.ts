import { describe, expect, it } from 'vitest';
import type { SiteDocument } from '../../../../src/core/adjustment/site/site-document.js';
import { siteWorking } from '../../../../src/tasks/transform/working/site-working.js';

const FEET = 0.25;
/** A site a right angle to the left of its grid, half as large again, with a plane of heights. */
const site = (own: object = {}, transform: object = {}): SiteDocument =>
  ({
    sourceAxes: { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 },
    siteAxes: { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 },
    heightKind: 'orthometric',
    transform: {
      horizontal: {
        sourceOrigin: { eastM: 100, northM: 200 },
        targetOrigin: { eastM: 1000, northM: 2000 },
        scale: 1.5,
        rotationRad: Math.PI / 2,
      },
      vertical: { origin: { eastM: 100, northM: 200 }, offsetM: 0.5, slopeEast: 0.001, slopeNorth: 0 },
      ...transform,
    },
    ...own,
  }) as unknown as SiteDocument;
// 10 m east of the middle are 15 m north of it on the site; the plane adds half a metre and a centimetre.
const GRID = { first: 110, second: 200, heightM: 50 };
const SITE = { first: 1000, second: 2015, heightM: 50.51 };
const onto = (own?: object, transform?: object, before = GRID, after = SITE): readonly string[] =>
  siteWorking(site(own, transform), 'forward', before, after).lines;

describe('the working of a site', () => {
  it('turns, stretches and lifts a pair onto it', () => {
    expect(onto()).toEqual([
      'e_0 = 100.00000000 m; n_0 = 200.00000000 m; E_1 = 1000.00000000 m; N_1 = 2000.00000000 m',
      's = 1.5; ρ = 90.0000000000000°',
      'e = 110.00000000 m; n = 200.00000000 m',
      'E = E_1 + s·((e − e_0)·cos ρ − (n − n_0)·sin ρ) = 1000.00000 m; N = N_1 + s·((e − e_0)·sin ρ + (n − n_0)·cos ρ) = 2015.00000 m',
      'easting_m = E = 1000.0000',
      'northing_m = N = 2015.0000',
      'e_v = 100.00000000 m; n_v = 200.00000000 m; c = 0.5 m; c_E = 0.001; c_N = 0',
      'δ = c + c_E·(e − e_v) + c_N·(n − n_v) = 0.510000 m',
      'H_0 = 50.00000000 m; H = H_0 + δ = 50.51000 m',
    ]);
  });

  it('and off it the other way', () => {
    const { title, lines } = siteWorking(site({ heightKind: 'ellipsoidal' }), 'inverse', SITE, GRID);
    expect(title).toBe('Off the site');
    expect(lines.slice(3)).toEqual([
      'E = e_0 + ((e − E_1)·cos ρ + (n − N_1)·sin ρ) / s = 110.00000 m; N = n_0 − ((e − E_1)·sin ρ − (n − N_1)·cos ρ) / s = 200.00000 m',
      'easting_m = E = 110.0000',
      'northing_m = N = 200.0000',
      'e_v = 100.00000000 m; n_v = 200.00000000 m; c = 0.5 m; c_E = 0.001; c_N = 0',
      'δ = c + c_E·(E − e_v) + c_N·(N − n_v) = 0.510000 m',
      'h_0 = 50.51000000 m; h = h_0 − δ = 50.00000 m',
    ]);
  });

  it('says nothing of heights that are not fitted or not known', () => {
    const last = (...how: Parameters<typeof onto>): string | undefined => onto(...how).at(-1);
    const plan = 'northing_m = N = 2015.0000';
    expect(last({}, { vertical: null })).toBe(plan);
    expect(last({}, {}, { ...GRID, heightM: null as never })).toBe(plan);
    expect(last({}, {}, GRID, { ...SITE, heightM: null as never })).toBe(plan);
  });

  it('says which way axes count, and in which unit', () => {
    const west = onto({ siteAxes: { columns: ['westing_m', 'southing_m'], metresPerUnit: 1 } }, {}, GRID, {
      ...SITE,
      first: -1000,
      second: -2015,
    });
    expect(west).toContain('westing_m = −E = -1000.0000');
    expect(west).toContain('southing_m = −N = -2015.0000');
    const feet = onto({ siteAxes: { columns: ['easting_ft', 'northing_ft'], metresPerUnit: FEET } }, {}, GRID, {
      ...SITE,
      first: 4000,
      second: 8060,
    });
    expect(feet).toEqual(
      expect.arrayContaining(['u = 0.25 m', 'easting_ft = E / u = 4000.0000', 'northing_ft = N / u = 8060.0000']),
    );
    const from = (own: object): string | undefined =>
      onto({ sourceAxes: { columns: ['easting_m', 'northing_m'], metresPerUnit: 1, ...own } })[2];
    expect(from({})).toBe('e = 110.00000000 m; n = 200.00000000 m');
    for (const own of [
      { metresPerUnit: FEET },
      { columns: ['westing_m', 'northing_m'] },
      { columns: ['easting_m', 'southing_m'] },
    ])
      expect(from(own)).toContain('(metres along east and north, from ');
  });
});
