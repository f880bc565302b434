import { describe, expect, it } from 'vitest';
import {
  isoAgainstCampaign,
  isoAgainstSigma,
  isoPrecision,
  isoScreen,
} from '../../../../src/core/quality/standards/iso-17123-8.js';
import type { IsoMeasurement } from '../../../../src/core/quality/standards/iso-17123-8.js';
import { checkIso } from '../../../../src/tasks/check/judge/check-tolerances-iso.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';

const NOMINAL = { distanceM: 19.994, heightDifferenceM: 0.028, sigmaXyM: 0.015, sigmaHeightM: 0.025 };

function quantity(row: ReferenceRow): number {
  const degrees = row.numberOrNull('degrees');
  if (degrees !== null) {
    switch (row.text('quantity')) {
      case 'sigma-factor':
        return isoAgainstSigma('', 1, degrees, 1).high;
      case 'campaign-low':
        return isoAgainstCampaign('', 1, degrees, 1, degrees).low ?? NaN;
      default:
        return isoAgainstCampaign('', 1, degrees, 1, degrees).high;
    }
  }
  const points = (['first', 'second'] as const).map((name, index): IsoMeasurement => {
    const [xM = NaN, yM = NaN, heightM = NaN] = row.numbers(name);
    return { series: 1, set: 1, point: index === 0 ? 1 : 2, xM, yM, heightM };
  });
  const { sets, distanceLimitM, heightLimitM } = isoScreen(points, NOMINAL);
  const [set] = sets;
  const values: Record<string, number | undefined> = {
    distance: set?.distanceM,
    height: set?.heightDifferenceM,
    'distance-error': set?.distanceErrorM,
    'height-error': set?.heightErrorM,
    'distance-limit': distanceLimitM,
    'height-limit': heightLimitM,
  };
  return values[row.text('quantity')] ?? NaN;
}

/** Sets with normal errors of the stated sigmas, the same in every series. */
function campaign(seed: number, series: number, sigmaM: number): readonly IsoMeasurement[] {
  const random = seededRandom(seed);
  const list: IsoMeasurement[] = [];
  for (let s = 1; s <= series; s += 1) {
    for (let set = 1; set <= 5; set += 1) {
      for (const point of [1, 2] as const) {
        list.push({
          series: s,
          set,
          point,
          xM: (point - 1) * 12 + sigmaM * random.normal(),
          yM: (point - 1) * 5 + sigmaM * random.normal(),
          heightM: (point - 1) * 0.2 + sigmaM * random.normal(),
        });
      }
    }
  }
  return list;
}
const OWN = { distanceM: 13, heightDifferenceM: 0.2, sigmaXyM: 0.01 * Math.SQRT2, sigmaHeightM: 0.01 };

describe('iso 17123-8', () => {
  it.each(readReferenceTable('iso-17123-8').map((row) => [row.case, row] as const))('gives %s', (_, row) => {
    expect(Math.abs(quantity(row) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
  });

  it('has 28 degrees of freedom an axis for three series of five sets, and finds the sigma put in', () => {
    let sum = 0;
    for (let seed = 1; seed <= 400; seed += 1) {
      const precision = isoPrecision(campaign(seed, 3, 0.01));
      expect([precision.degreesXy, precision.degreesHeight]).toEqual([56, 28]);
      sum += precision.sigmaXyM ** 2;
    }
    expect(Math.sqrt(sum / 400 / 2)).toBeCloseTo(0.01, 3);
  });

  it('does not lose digits to large coordinates', () => {
    const near = isoPrecision(campaign(7, 3, 0.01));
    const far = isoPrecision(campaign(7, 3, 0.01).map((m) => ({ ...m, xM: m.xM + 3.5e6 })));
    expect(far.sigmaXM).toBeCloseTo(near.sigmaXM, 9);
  });

  it('rejects a true sigma in 5 % of 2,000 campaigns, within three standard errors', () => {
    let rejected = 0;
    for (let seed = 1; seed <= 2000; seed += 1) {
      const { sigmaHeightM, degreesHeight } = isoPrecision(campaign(seed + 5000, 3, 0.01));
      if (!isoAgainstSigma('', sigmaHeightM, degreesHeight, 0.01).passes) rejected += 1;
    }
    expect(Math.abs(rejected / 2000 - 0.05)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / 2000));
  });

  it('claims no standard deviation from the simplified procedure, and says how many sets are missing', () => {
    const result = checkIso(campaign(1, 1, 0.01), OWN, null, 'series.csv');
    expect(result.ok && result.value).toMatchObject({ procedure: 'simplified', precision: null, setsMissing: 10 });
  });

  it('refuses a series of four sets, and a set of one point', () => {
    const four = checkIso(
      campaign(1, 1, 0.01).filter(({ set }) => set < 5),
      OWN,
      null,
      's.csv',
    );
    const lone = checkIso(campaign(1, 1, 0.01).slice(1), OWN, null, 's.csv');
    for (const outcome of [four, lone])
      expect(outcome.problems.map(({ code }) => code)).toEqual(['check-too-few-rows']);
  });

  it('stops at the screen when a set is grossly wrong', () => {
    const wrong = campaign(1, 3, 0.002).map((m, i) => (i === 3 ? { ...m, heightM: m.heightM + 0.5 } : m));
    const result = checkIso(wrong, OWN, null, 's.csv');
    expect(result.ok && result.value).toMatchObject({ precision: null, tests: [] });
    expect(result.ok && result.value.screen.sets.filter((set) => !set.passes)).toHaveLength(1);
  });

  it('tells campaigns of different precision apart, and not those of one', () => {
    const own = campaign(1, 3, 0.01);
    const tests = (other: readonly IsoMeasurement[]): readonly boolean[] => {
      const result = checkIso(own, OWN, other, 's.csv');
      return result.ok ? result.value.tests.slice(2).map(({ passes }) => passes) : [];
    };
    expect(tests(campaign(2, 3, 0.01))).toEqual([true, true]);
    expect(tests(campaign(2, 3, 0.03))).toEqual([false, false]);
  });

  it('leaves out a set of which one point was not measured', () => {
    const one = { series: 1, xM: 0, yM: 0, heightM: 0 };
    const screen = isoScreen(
      [
        { ...one, set: 1, point: 1 },
        { ...one, set: 2, point: 1 },
        { ...one, set: 2, point: 2, xM: 19.994, heightM: 0.028 },
        { ...one, set: 3, point: 2 },
      ],
      NOMINAL,
    );
    expect(screen.sets.map(({ set }) => set)).toEqual([2]);
    expect(screen.passes).toBe(true);
  });
});
