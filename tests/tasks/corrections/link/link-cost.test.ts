import { describe, expect, it } from 'vitest';
import type { PointCost } from '../../../../src/records/corrections/link-report.js';
import type { Fix } from '../../../../src/records/points/fix.js';
import { createLinkCost } from '../../../../src/tasks/corrections/link/link-cost.js';
import type { CostSetting } from '../../../../src/tasks/corrections/link/link-cost.js';

const SETTING: CostSetting = {
  limitS: 10,
  ageRateMPerS: 0.001,
  minEpochs: 3,
  sigmaOf: () => ({ horizontalM: 0.01, verticalM: 0.02 }),
  toleranceHorizontalM: null,
  toleranceVerticalM: null,
};

/** Ages of the epochs of one point, seconds, and whether each was fixed. */
function cost(
  epochs: readonly (readonly [number | null, boolean])[],
  setting: Partial<CostSetting> = {},
): PointCost & { readonly isRescued: boolean; readonly isLost: boolean } {
  const count = createLinkCost({ ...SETTING, ...setting });
  for (const [correctionAgeS, isFixed] of epochs) count.add({ pointId: 'P', correctionAgeS } as Fix, isFixed);
  const { points, rescuedPoints, lostPoints } = count.result();
  const [own] = points.listed;
  if (own === undefined) throw new Error('no point');
  return { ...own, isRescued: rescuedPoints.includes('P'), isLost: lostPoints.includes('P') };
}

describe('what the age of corrections cost a point', () => {
  it('counts an epoch at the limit as kept, and an older one as lost, whether fixed or not', () => {
    expect(
      cost([
        [10, true],
        [10.1, true],
        [11, false],
        [3, false],
        [null, true],
        [null, false],
      ]),
    ).toMatchObject({ epochs: 6, kept: 2, lost: 2, meanAgeS: 10 });
  });

  it.each<readonly [string, readonly (readonly [number | null, boolean])[], boolean, boolean, boolean]>([
    [
      'enough were kept',
      [
        [1, true],
        [1, true],
        [1, true],
        [20, false],
      ],
      true,
      true,
      false,
    ],
    [
      'one too few were kept, and enough with those lost',
      [
        [1, true],
        [1, true],
        [20, false],
      ],
      false,
      true,
      false,
    ],
    [
      'all were lost',
      [
        [20, false],
        [20, false],
        [20, true],
      ],
      false,
      true,
      true,
    ],
    [
      'too few, lost ones among them',
      [
        [1, true],
        [20, false],
      ],
      false,
      false,
      false,
    ],
    [
      'it was not fixed',
      [
        [1, false],
        [1, false],
        [1, false],
      ],
      false,
      false,
      false,
    ],
  ])('says whether it passes, and would with a good link: %s', (_, epochs, passes, wouldPass, isLost) => {
    expect(cost(epochs)).toMatchObject({ passes, wouldPass, isLost, isRescued: wouldPass && !passes });
  });

  // The radius that holds 95 % of two like normal axes is √(−2 ln 0.05) = 2.4477 sigma, of one axis 1.9600 (FGDC-NSSDA); rate times
  // mean age is added to either axis. With a good link ages would be 2 s at most: our own figure.
  it('holds the tolerance against sigmas with the mean age, and with what it would be', () => {
    const old = [9, 9, 9].map((age) => [age, true] as const);
    const sigma = (age: number): number => Math.hypot(0.01, 0.001 * age);
    const up = (age: number): number => Math.hypot(0.02, 0.001 * age);
    expect(cost(old)).toMatchObject({ sigmaHorizontalAgedM: sigma(9), sigmaVerticalAgedM: up(9), meanAgeS: 9 });
    const plan = (factor: number): object => {
      const { passes, wouldPass, isRescued } = cost(old, { toleranceHorizontalM: factor * sigma(9) });
      return { passes, wouldPass, isRescued };
    };
    expect(plan(2.448)).toEqual({ passes: true, wouldPass: true, isRescued: false });
    expect(plan(2.447)).toEqual({ passes: false, wouldPass: true, isRescued: true });
    const height = (factor: number): object => {
      const { passes, wouldPass, isRescued } = cost(old, { toleranceVerticalM: factor * up(9) });
      return { passes, wouldPass, isRescued };
    };
    expect(height(1.961)).toEqual({ passes: true, wouldPass: true, isRescued: false });
    expect(height(1.959)).toEqual({ passes: false, wouldPass: true, isRescued: true });
    const good = (factor: number): boolean => cost(old, { toleranceHorizontalM: factor * sigma(2) }).wouldPass;
    expect([good(2.448), good(2.447)]).toEqual([true, false]);
    // Younger than that it stays as it was.
    const young = [1, 1, 1].map((age) => [age, true] as const);
    expect(cost(young, { toleranceHorizontalM: 2.448 * sigma(1) }).wouldPass).toBe(true);
    expect(cost(young, { toleranceHorizontalM: 2.447 * sigma(1) }).wouldPass).toBe(false);
  });

  it('fails neither tolerance where no baseline is known', () => {
    const setting = { sigmaOf: () => null, toleranceHorizontalM: 0.001, toleranceVerticalM: 0.001 };
    expect(
      cost(
        [
          [1, true],
          [1, true],
          [1, true],
        ],
        setting,
      ),
    ).toMatchObject({
      passes: true,
      sigmaHorizontalM: null,
      sigmaHorizontalAgedM: null,
      sigmaVerticalM: null,
      sigmaVerticalAgedM: null,
    });
  });

  it('adds nothing where no age is stated', () => {
    expect(
      cost([
        [null, true],
        [null, true],
        [null, true],
      ]),
    ).toMatchObject({
      meanAgeS: null,
      sigmaHorizontalAgedM: 0.01,
      sigmaVerticalAgedM: 0.02,
      passes: true,
    });
  });

  it('lists twenty thousand points, and counts the epochs of others', () => {
    const count = createLinkCost(SETTING);
    for (let point = 0; point < 20_003; point += 1)
      count.add({ pointId: String(point), correctionAgeS: 20 } as Fix, true);
    const { points, lostEpochs, lostPoints } = count.result();
    expect([points.listed.length, points.leftOut, lostEpochs, lostPoints.length]).toEqual([20_000, 3, 20_000, 20_000]);
  });
});
