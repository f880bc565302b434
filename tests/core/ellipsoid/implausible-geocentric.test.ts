import { describe, expect, it } from 'vitest';
import { implausibleGeocentric } from '../../../src/core/ellipsoid/implausible-geocentric.js';

const PLACE = { xM: 3771793.968, yM: 140253.342, zM: 5124304.349 };
const scaled = (factor: number): typeof PLACE => ({
  xM: PLACE.xM * factor,
  yM: PLACE.yM * factor,
  zM: PLACE.zM * factor,
});

describe('implausibleGeocentric', () => {
  it('takes the surface, a mine and a satellite a thousand kilometres up for places', () => {
    for (const factor of [1, 0.9995, 1.16]) expect(implausibleGeocentric(scaled(factor), null)).toBeNull();
  });

  it('names feet and kilometres, and no unit where none would do', () => {
    expect(implausibleGeocentric(scaled(1 / 0.3048), null)?.message).toContain('if the numbers are feet');
    expect(implausibleGeocentric(scaled(0.001), null)?.message).toContain('if the numbers are kilometres');
    expect(implausibleGeocentric(scaled(0.1), null)?.message).toMatch(/near the Earth$/u);
  });

  it('refuses what is no number, and names the local coordinates where they are the ones given', () => {
    expect(implausibleGeocentric({ xM: Number.NaN, yM: 0, zM: 0 }, null)?.code).toBe('coordinate-implausible');
    expect(implausibleGeocentric(scaled(20), { eastM: 1e8, northM: 2, upM: 3 })?.message).toContain(
      'east 100000000, north 2, up 3',
    );
  });
});
