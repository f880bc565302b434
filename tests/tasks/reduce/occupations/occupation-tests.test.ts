import { describe, expect, it } from 'vitest';
import { localFrameAt } from '../../../../src/core/ellipsoid/local-frame.js';
import { expectedScatter } from '../../../../src/core/observation/averaging/expected-scatter.js';
import { robustAverage } from '../../../../src/core/observation/averaging/robust-average.js';
import type { AveragedEpochs } from '../../../../src/tasks/reduce/epochs/average-epochs.js';
import { testOccupation, testReasons } from '../../../../src/tasks/reduce/occupations/occupation-tests.js';
import { NORMAL_PRECISION } from '../../../support/check-setup.js';
import { seededRandom } from '../../../support/seeded-random.js';

const model = NORMAL_PRECISION;

const expected = expectedScatter({
  prediction: model.at(4000, 0),
  spanS: 74,
  pole: null,
  reportedHorizontalM: null,
  reportedVerticalM: null,
});

function epochs(count: number, eastOf: (index: number) => number): AveragedEpochs {
  const random = seededRandom(11);
  const east = Float64Array.from({ length: count }, (_, index) => eastOf(index) + 0.003 * random.normal());
  const north = Float64Array.from({ length: count }, () => 0.003 * random.normal());
  const up = Float64Array.from({ length: count }, () => 0.006 * random.normal());
  const timesS = Float64Array.from({ length: count }, (_, index) => index);
  return {
    frame: localFrameAt(-31.5, 21.4),
    east,
    north,
    up,
    timesS,
    expected,
    average: robustAverage(east, north, up, expected),
    mean: { xM: 0, yM: 0, zM: 0 },
  };
}

const reasons = (east: (index: number) => number): readonly string[] =>
  testReasons(testOccupation(epochs(75, east), model.at(4000, 0)));

describe('tests of an occupation', () => {
  // 2026-11: three wild epochs of 75 spread the stand by more than 5 cm, and it was rejected as walked.
  it('take a stand with a few wild epochs for standing still', () => {
    expect(reasons((index) => ([14, 37, 61].includes(index) ? 0.5 : 0))).toEqual([]);
  });

  it('find a walk, a walk that begins late, and a step', () => {
    expect(reasons((index) => 0.9 * index)).toEqual(['point-antenna-moving']);
    expect(reasons((index) => 0.9 * Math.max(0, index - 50))).toEqual(['point-antenna-moving']);
    expect(reasons((index) => (index < 40 ? 0 : 0.04))).toEqual(['point-step']);
  });
});
