import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticGap, ONE_PLACE_M, placesApart, unsaidInPlanM } from '../../../src/core/ellipsoid/one-place.js';

const SAME = { planM: 0, planUnsaidM: 0, upM: 0, upUnsaidM: 0 };

describe('two forms of one place', () => {
  it('are one place up to the level and what their digits leave unsaid, and two beyond', () => {
    expect(placesApart(SAME)).toBeNull();
    expect(placesApart({ ...SAME, planM: ONE_PLACE_M, upM: ONE_PLACE_M })).toBeNull();
    expect(placesApart({ ...SAME, planM: 0.0051 })).toBe('0.005 m apart');
    expect(placesApart({ ...SAME, planM: 0.0149, planUnsaidM: 0.01 })).toBeNull();
    expect(placesApart({ ...SAME, planM: 0.0151, planUnsaidM: 0.01 })).toBe('0.015 m apart');
    expect(placesApart({ ...SAME, upM: 0.0149, upUnsaidM: 0.01 })).toBeNull();
    expect(placesApart({ ...SAME, upM: 0.0161, upUnsaidM: 0.01 })).toBe('0.016 m apart in height');
  });

  it('are told apart in plan before height', () => {
    expect(placesApart({ ...SAME, planM: 1, upM: 9 })).toBe('1.000 m apart');
  });

  // GeodSolve -i (GeographicLib): the geodesic from 2, 1 to 2.1, 1 is 11057.569692 m; the chord of it is 1.4 mm shorter, and 1000 m
  // higher it is longer by 1 + 1000 / 6335559 (the radius in the meridian).
  it('are measured straight through the ground at the height of the first', () => {
    const a = { latitudeDeg: 2, longitudeDeg: 1, ellipsoidalHeightM: 0 };
    const gap = geodeticGap(a, { latitudeDeg: 2.1, longitudeDeg: 1, ellipsoidalHeightM: 7 }, WGS84);
    expect(gap.planM).toBeCloseTo(11057.569692 - 0.0014, 3);
    expect(gap.upM).toBe(7);
    const higher = geodeticGap({ ...a, ellipsoidalHeightM: 1000 }, { ...a, latitudeDeg: 2.1 }, WGS84);
    expect(higher.planM / gap.planM).toBeCloseTo(1 + 1000 / 6335521, 8);
    expect(higher.upM).toBe(1000);
  });

  it('are one across the 180th meridian', () => {
    const a = { latitudeDeg: -17, longitudeDeg: 180, ellipsoidalHeightM: 0 };
    expect(geodeticGap(a, { ...a, longitudeDeg: -180 }, WGS84).planM).toBeLessThan(1e-8);
  });

  it('leave unsaid half a unit of the last digit of each coordinate', () => {
    expect(unsaidInPlanM(0.5, 0)).toBeCloseTo(Math.SQRT1_2, 12);
    // 1e-7 degree of latitude is 11.1 mm: half a minute of arc of the Earth's 1852 m nautical mile, at three digits.
    expect(unsaidInPlanM(0, 0.5 / 60)).toBeCloseTo((Math.SQRT2 * 1852) / 2, -1);
  });
});
