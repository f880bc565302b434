import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { gaussRadiusM } from '../../../src/core/ellipsoid/radii.js';
import { doubtfulBase } from '../../../src/core/planning/doubtful-base.js';

const geodesic = createGeodesic(WGS84);
const BASE = { latitudeDeg: -31.5, longitudeDeg: 21.4 };

function pointAt(
  distanceM: number,
  toleranceHorizontalM: number | null,
): { latitudeDeg: number; longitudeDeg: number; toleranceHorizontalM: number | null } {
  const { latitudeDeg, longitudeDeg } = geodesic.direct(BASE.latitudeDeg, BASE.longitudeDeg, 90, distanceM);
  return { latitudeDeg, longitudeDeg, toleranceHorizontalM };
}

describe('doubtfulBase', () => {
  it('moves every point by the error itself and bounds what stays: 0.063 ppm of the baseline per metre (computed, simulation)', () => {
    const [near, far] = doubtfulBase(geodesic, BASE, [pointAt(10_000, null), pointAt(60_000, null)], 2);
    expect([near?.translationM, far?.translationM]).toEqual([2, 2]);
    expect(far?.residualM).toBeCloseTo(2 * 0.063e-6 * 60_000, 9);
    expect(near?.residualM).toBeCloseTo(2 * 0.063e-6 * 10_000, 9);
    expect(far?.shortcutErrorM).toBeCloseTo(
      (2 * 60_000) / gaussRadiusM(WGS84, -31.5) / Math.cos((31.5 * Math.PI) / 180),
      9,
    );
  });

  it('judges by 2 mm and by a third of the tolerance', () => {
    const judge = (errorM: number, toleranceM: number | null): string | undefined =>
      doubtfulBase(geodesic, BASE, [pointAt(60_000, toleranceM)], errorM)[0]?.judgement;
    expect(judge(0, 0.05)).toBe('harmless');
    expect(judge(0.5, 0.05)).toBe('harmless');
    expect(judge(1, 0.05)).toBe('warn');
    expect(judge(5, 0.05)).toBe('reobserve');
    expect(judge(5, null)).toBe('warn');
    expect(judge(0.5, 0.004)).toBe('reobserve');
  });
});
