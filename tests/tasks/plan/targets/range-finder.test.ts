import { describe, expect, it } from 'vitest';
import { createPredictor } from '../../../../src/core/planning/prediction.js';
import { createRangeFinder } from '../../../../src/tasks/plan/targets/range-finder.js';
import { geodesic, PREDICTION, target } from '../plan-fixture.js';

const EQUATOR = { id: 'B', latitudeDeg: 0, longitudeDeg: 20, ellipsoidalHeightM: 0 };

describe('createRangeFinder', () => {
  for (const { epochCount, heightM } of [
    { epochCount: 1, heightM: 0 },
    { epochCount: 180, heightM: 0 },
    { epochCount: 1, heightM: 432.5 },
  ]) {
    it(`inverts the prediction to 1 mm: ${epochCount} epochs, ${heightM} m higher`, () => {
      const settings = { ...PREDICTION, epochCount };
      const { rangeM, decidedBy } = createRangeFinder(settings, 'normal', false).at(0.06, 0.12, heightM);
      expect(rangeM).toBeGreaterThan(10_000);
      // The base's covariance is turned between base and point; to stay clear of that only the deciding axis is looked at near the equator line.
      const meets = (distanceM: number): boolean => {
        const end = geodesic.direct(0, 20, 90, distanceM);
        const at = createPredictor(geodesic, EQUATOR, {
          ...settings,
          baseSigmaHorizontalM: 0,
          baseSigmaVerticalM: 0,
        }).at(target('p', end.latitudeDeg, end.longitudeDeg, { ellipsoidalHeightM: heightM })).byConditions[1];
        if (at === undefined) throw new Error('no prediction');
        return at.uncertainty.circle95M <= 0.06 && at.uncertainty.vertical95M <= 0.12;
      };
      const free = createRangeFinder(
        { ...settings, baseSigmaHorizontalM: 0, baseSigmaVerticalM: 0 },
        'normal',
        false,
      ).at(0.06, 0.12, heightM).rangeM;
      expect(meets(free - 0.001)).toBe(true);
      expect(meets(free + 0.001)).toBe(false);
      expect(['horizontal', 'vertical']).toContain(decidedBy);
      expect(rangeM).toBeLessThan(free);
    });
  }

  it('reaches no farther with height differences rounded up, and by less than a metre of height explains', () => {
    const exact = createRangeFinder(PREDICTION, 'normal', false);
    const whole = createRangeFinder(PREDICTION, 'normal', true);
    for (const heightM of [0, 0.2, 99.5, -431.2]) {
      const short = whole.at(null, 0.1, heightM).rangeM;
      expect(short).toBeLessThanOrEqual(exact.at(null, 0.1, heightM).rangeM);
      expect(short).toBeGreaterThanOrEqual(exact.at(null, 0.1, Math.abs(heightM) + 1).rangeM);
    }
  });

  it('is 0 where a tolerance is below the constant term, and names the axis', () => {
    expect(createRangeFinder(PREDICTION, 'normal', false).at(0.5, 0.02, null)).toMatchObject({
      rangeM: 0,
      decidedBy: 'vertical',
      vertical: { status: 'tolerance-below-constant' },
    });
  });

  it('keeps ranges by whole metres, in whatever order they are asked for', () => {
    const finder = createRangeFinder(PREDICTION, 'normal', true);
    const own = finder.byMetres(0.05, 0.1);
    expect(own.isByHeight).toBe(true);
    expect(finder.byMetres(0.05, null).isByHeight).toBe(false);
    for (const metre of [40, 0, 3, 900, 40, 20_001, 16, 3]) {
      expect(own.metresAt(metre)).toBe(createRangeFinder(PREDICTION, 'normal', true).at(0.05, 0.1, metre).rangeM);
      if (metre <= 20_000) expect(own.known[metre]).toBe(own.metresAt(metre));
    }
    expect(own.known[1]).toBeNaN();
    expect(own.known.length).toBeLessThan(20_000);
  });
});
