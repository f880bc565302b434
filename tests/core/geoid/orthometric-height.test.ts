import { describe, expect, it } from 'vitest';
import { ellipsoidalHeightM, orthometricHeightM } from '../../../src/core/geoid/orthometric-height.js';

describe('h = H + N', () => {
  it('gives the published levelled heights from ellipsoidal heights (GDA2020-TM, worked example, Flinders Peak and Buninyong)', () => {
    // Printed to 1 mm each, so the difference of two may be out by 1 mm.
    expect(orthometricHeightM(350.948, 3.748)).toBeCloseTo(347.2, 3);
    expect(orthometricHeightM(749.855, 4.869)).toBeCloseTo(744.986, 3);
  });

  it('subtracts a negative geoid height by adding its size', () => {
    expect(orthometricHeightM(100, -31.6)).toBe(131.6);
  });

  it('goes back the way it came', () => {
    expect(ellipsoidalHeightM(orthometricHeightM(1041.9, 25.634), 25.634)).toBeCloseTo(1041.9, 12);
  });
});
