import { describe, expect, it } from 'vitest';
import type { ReportOccupation } from '../../../src/records/reports/reduction-report.js';
import { thinOccupation } from '../../../src/tasks/reduce/epochs/thin-occupation.js';
import type { ReducedOccupation } from '../../../src/tasks/reduce/reduction-working.js';

interface Made {
  readonly count: number;
  /** Indexes of epochs that a limit refuses, and of those that are outliers only. */
  readonly refused?: readonly number[];
  readonly outliers?: readonly number[];
  readonly untimed?: readonly number[];
  readonly hasMean?: boolean;
  readonly tooManyOutliers?: boolean;
  readonly stepAt?: number | null;
}

const TEST = { driftM: 0, driftSigmaM: 0, isDrift: false, stepM: 0, stepSigmaM: 0, isStep: false };

/** An occupation of one epoch a second from second 100 on, each a millimetre east of the one before. */
function thinned(
  { count, refused = [], outliers = [], untimed = [], hasMean = true, tooManyOutliers = false, stepAt = null }: Made,
  most: number,
): ReportOccupation {
  const epochs = Array.from({ length: count }, (_, index) => ({
    fix: { epochMs: untimed.includes(index) ? null : 100_000 + 1000 * index },
    refusals: [
      ...(refused.includes(index) ? ['epoch-age'] : []),
      ...(outliers.includes(index) ? ['epoch-outlier'] : []),
    ],
    residual: { eastM: index / 1000, northM: 0, upM: 0 },
  }));
  const test = { ...TEST, stepAt };
  return thinOccupation(
    {
      point: { pointId: 'P', occupation: '1', baseline: null, summary: null },
      working: {
        epochs,
        // On the equator at Greenwich y is east, z is north and x is up.
        reduced: epochs.map((_, index) => ({
          geodetic: { latitudeDeg: 0, longitudeDeg: 0 },
          tip: { xM: 6_378_137 + 3 * index, yM: index, zM: 2 * index },
        })),
        mean: hasMean ? {} : null,
        average: { tooManyOutliers },
        tests: { east: test, north: test, up: test, motion: { spreadM: 0.01 } },
      },
    } as unknown as ReducedOccupation,
    most,
  );
}
const picked = (made: Made, most: number): readonly number[] => thinned(made, most).epochs.map(({ timeS }) => timeS);
const range = (from: number, to: number): readonly number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);

describe('an occupation as a page draws it', () => {
  it.each<readonly [string, Made, number, readonly number[]]>([
    ['all where there is room', { count: 5, refused: [1] }, 5, [0, 1, 2, 3, 4]],
    ['first, last and evenly between', { count: 9 }, 5, [0, 2, 4, 6, 8]],
    ['evenly to the nearest', { count: 10 }, 4, [0, 3, 6, 9]],
    // Half of the room is for refused ones where there are as many.
    ['refused ones as far as half of the room', { count: 12, refused: range(0, 5) }, 6, [0, 3, 5, 6, 9, 11]],
    ['all refused ones where they are few', { count: 12, refused: [3, 7] }, 6, [0, 3, 4, 7, 8, 11]],
    ['more refused ones where used ones leave room', { count: 12, refused: range(0, 9) }, 6, [0, 3, 6, 9, 10, 11]],
    ['refused ones alone', { count: 9, refused: range(0, 8) }, 5, [0, 2, 4, 6, 8]],
    ['half of an odd room, rounded down', { count: 12, refused: range(0, 5) }, 5, [0, 5, 6, 9, 11]],
    ['one', { count: 5 }, 1, [0]],
  ])('has %s', (_, made, most, expected) => {
    expect(picked(made, most)).toEqual(expected);
  });

  it('says of each whether it is used, and how often each limit refused one', () => {
    const { epochs, refusals, epochCount, firstMs, hasTimes } = thinned(
      { count: 5, refused: [1, 2], outliers: [2] },
      9,
    );
    expect(epochs.map(({ used }) => used)).toEqual([true, false, false, true, true]);
    expect(refusals).toEqual([
      ['epoch-age', 2],
      ['epoch-outlier', 1],
    ]);
    expect([epochCount, firstMs, hasTimes]).toEqual([5, 100_000, true]);
  });

  it('has residuals from the mean, and without one distances from the first epoch', () => {
    expect(thinned({ count: 3 }, 9).epochs.map(({ offset }) => offset.eastM)).toEqual([0, 0.001, 0.002]);
    const { epochs, hasMean } = thinned({ count: 3, hasMean: false }, 9);
    expect(hasMean).toBe(false);
    for (const [index, { offset }] of epochs.entries()) {
      expect(offset.eastM).toBeCloseTo(index, 9);
      expect(offset.northM).toBeCloseTo(2 * index, 9);
      expect(offset.upM).toBeCloseTo(3 * index, 9);
    }
    expect(thinned({ count: 0, hasMean: false }, 9).epochs).toEqual([]);
  });

  it('counts epochs where one has no time', () => {
    const { epochs, hasTimes } = thinned({ count: 4, untimed: [2] }, 9);
    expect([hasTimes, ...epochs.map(({ timeS }) => timeS)]).toEqual([false, 0, 1, 2, 3]);
    expect(thinned({ count: 4, untimed: [0] }, 9)).toMatchObject({ hasTimes: false, firstMs: null });
  });

  it('says when a step was: among the epochs that were tested', () => {
    const stepTime = (made: Made): number | null | undefined => thinned(made, 9).trends?.east.stepTimeS;
    expect(stepTime({ count: 6 })).toBeNull();
    expect(stepTime({ count: 6, stepAt: 2 })).toBe(2);
    // A refused epoch was not tested, nor an outlier; where there were too many the outliers were.
    expect(stepTime({ count: 6, stepAt: 2, refused: [0] })).toBe(3);
    expect(stepTime({ count: 6, stepAt: 2, outliers: [1] })).toBe(3);
    expect(stepTime({ count: 6, stepAt: 2, outliers: [1], tooManyOutliers: true })).toBe(2);
    expect(stepTime({ count: 6, stepAt: 2, outliers: [1], refused: [1], tooManyOutliers: true })).toBe(3);
  });
});
