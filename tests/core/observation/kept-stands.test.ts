import { describe, expect, it } from 'vitest';
import { expectedScatter, mostScatter } from '../../../src/core/observation/averaging/expected-scatter.js';
import { fastNoise } from '../../../src/core/observation/averaging/fast-noise.js';
import { robustAverage } from '../../../src/core/observation/averaging/robust-average.js';
import {
  madFactor,
  screenFactors,
  screenLimitM,
  screenedFromM,
} from '../../../src/core/observation/averaging/screen-limit.js';
import { theilSen } from '../../../src/core/observation/averaging/theil-sen.js';
import { withoutOutliers } from '../../../src/core/observation/averaging/without-outliers.js';
import { combineOccupations } from '../../../src/core/observation/repeats/combine-occupations.js';
import type { OccupationEstimate } from '../../../src/core/observation/repeats/occupation-estimate.js';
import { antennaMoving } from '../../../src/core/observation/stand-tests/antenna-moving.js';
import { scatterIsLarge, standAgreement } from '../../../src/core/observation/stand-tests/stand-agreement.js';
import { trendTest } from '../../../src/core/observation/stand-tests/trend-test.js';
import { jointTest } from '../../../src/core/quality/joint-test.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';
import { keptRecord } from '../../support/kept-record.js';
import { seededRandom } from '../../support/seeded-random.js';

// Regression, kept whole: averages and tests of invented stands to six digits. Whether they are right is what the other tests of
// this folder hold, against tables, brute force and simulations.

const prediction = NORMAL_PRECISION.at(8000, 20);

interface Shape {
  readonly epochs: number;
  readonly stepS?: number;
  readonly noise?: readonly [number, number, number];
  /** What is added to east, north and up at an epoch. */
  readonly off?: (epoch: number) => readonly [number, number, number];
}

const STANDS: Readonly<Record<string, Shape>> = {
  'one epoch': { epochs: 1 },
  'two epochs': { epochs: 2 },
  'two epochs far apart': { epochs: 2, off: (epoch) => [0.3 * epoch, 0, 0] },
  'three epochs': { epochs: 3 },
  'ten quiet epochs': { epochs: 10 },
  'sixty, two of them off': {
    epochs: 60,
    off: (epoch) => (epoch === 7 ? [0.4, 0, 0] : epoch === 30 ? [0, 0, -0.9] : [0, 0, 0]),
  },
  'forty in two clusters': { epochs: 40, off: (epoch) => (epoch % 2 === 0 ? [0.25, 0, 0] : [0, 0, 0]) },
  'thirty that drift': { epochs: 30, stepS: 5, off: (epoch) => [0.004 * epoch, -0.002 * epoch, 0] },
  'thirty with a step': { epochs: 30, off: (epoch) => [0, 0, epoch > 12 ? 0.12 : 0] },
  'an antenna that moves': { epochs: 25, off: (epoch) => [0.3 * epoch, 0.1 * epoch, 0] },
  'one that is carried off at the end': {
    epochs: 25,
    off: (epoch) => (epoch > 21 ? [0.5 * (epoch - 21), 0, 0] : [0, 0, 0]),
  },
  'a large scatter': { epochs: 50, noise: [0.08, 0.07, 0.2] },
  'a large scatter in height': { epochs: 50, noise: [0.004, 0.004, 0.15] },
  'eight hundred epochs': { epochs: 800, off: (epoch) => [0.00003 * epoch, 0, epoch > 500 ? 0.02 : 0] },
};

function epochsOf({ epochs, stepS = 1, noise = [0.006, 0.006, 0.011], off = () => [0, 0, 0] }: Shape) {
  const random = seededRandom(epochs);
  const axes = [0, 1, 2].map((axis) =>
    Float64Array.from({ length: epochs }, (_, epoch) => (noise[axis] ?? 0) * random.normal() + (off(epoch)[axis] ?? 0)),
  ) as [Float64Array, Float64Array, Float64Array];
  return { timesS: Float64Array.from({ length: epochs }, (_, epoch) => stepS * epoch), axes };
}

describe('a stand, as it was averaged and tested', () => {
  it.each(Object.entries(STANDS))('%s', async (name, shape) => {
    const { timesS, axes } = epochsOf(shape);
    const [east, north, up] = axes;
    const expected = expectedScatter({
      ...{ prediction, spanS: timesS.at(-1) ?? 0, reportedHorizontalM: 0.008, reportedVerticalM: 0.015 },
      pole: name === 'two epochs' ? { eeM2: 1e-4, enM2: 0, euM2: 0, nnM2: 2e-4, nuM2: 0, uuM2: 3e-4 } : null,
    });
    const average = robustAverage(east, north, up, expected);
    const { outlier, ...averaged } = average;
    const kept = (values: Float64Array): Float64Array => withoutOutliers(values, average);
    const slow = (along: 'horizontal' | 'vertical') => ({
      constantM: prediction[along].constantM,
      growingM: 0.5 * prediction[along].totalM,
      correlationS: along === 'vertical' ? prediction.correlationVerticalS : prediction.correlationHorizontalS,
    });
    const times = kept(timesS);
    const record = {
      ...{ expected, averaged, outliers: [...outlier].flatMap((is, at) => (is === 0 ? [] : [at])) },
      ...{ agreement: standAgreement(average), isLarge: scatterIsLarge(east, north, up, average, expected) },
      motion: antennaMoving(
        { timesS: times, east: kept(east), north: kept(north), up: kept(up) },
        mostScatter(expected),
      ),
      trends: [
        trendTest(times, kept(east), slow('horizontal')),
        trendTest(times, kept(north), slow('horizontal')),
        trendTest(times, kept(up), slow('vertical')),
      ],
      fast: axes.map((values) => [fastNoise(values, null), fastNoise(values, outlier)]),
      slopes: shape.epochs < 2 ? [] : axes.map((values) => theilSen(timesS, values)),
    };
    await expect(keptRecord(record)).toMatchFileSnapshot(`./stands/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });

  it('has limits by the number of its epochs', async () => {
    const axis = { withinM: 0.01, mostM: 0.04 } as never;
    const limits = [1, 2, 3, 4, 5, 8, 9, 10, 11, 30, 100, 1000].map((count) => ({
      ...{ count, ...screenFactors(count), mad: madFactor(count), from: screenedFromM(count, axis) },
      limits: [0, 0.003, 0.02, 0.2].map((madM) => screenLimitM(count, madM, axis)),
    }));
    // No epoch that is nearer than the quick look lets pass is beyond a limit.
    for (const { count, from, limits: own } of limits)
      if (count > 2) expect(Math.min(...own)).toBeGreaterThanOrEqual(from - 1e-12);
    await expect(keptRecord(limits)).toMatchFileSnapshot('./stands/limits.txt');
  });
});

const diagonal = (plan: number, up: number): OccupationEstimate['mark'] => ({
  ...{ eeM2: plan ** 2, enM2: 0.1 * plan ** 2, euM2: 0, nnM2: 1.2 * plan ** 2, nuM2: 0, uuM2: up ** 2 },
});
const estimate = (place: number, own: Partial<OccupationEstimate> = {}): OccupationEstimate => {
  const random = seededRandom(100 + place);
  const startMs = 2_400_000 * place;
  return {
    position: { eastM: 0.01 * random.normal(), northM: 0.01 * random.normal(), upM: 0.02 * random.normal() },
    ...{ independent: diagonal(0.005, 0.009), correlated: diagonal(0.006, 0.012), baseline: diagonal(0.004, 0.01) },
    ...{ mark: diagonal(0.01, 0.02), setup: diagonal(0.002, 0.003) },
    ...{ markKey: place % 3 === 2 ? 'N' : 'M', setupKey: String(place % 2), baselineM: 5000 + 900 * place },
    ...{ startMs, endMs: startMs + 30_000, ...own },
  };
};
const OCCUPATIONS: Readonly<Record<string, readonly OccupationEstimate[]>> = {
  one: [estimate(0)],
  two: [estimate(0), estimate(1)],
  'five from two marks': [0, 1, 2, 3, 4].map((place) => estimate(place)),
  'five, one far off': [0, 1, 2, 3, 4].map((place) =>
    estimate(place, place === 3 ? { position: { eastM: 0.3, northM: 0, upM: 0.1 } } : {}),
  ),
  'four without times': [0, 1, 2, 3].map((place) => estimate(place, { startMs: null, endMs: null })),
  'four without marks': [0, 1, 2, 3].map((place) => estimate(place, { markKey: null, setupKey: null })),
  'four in another order': [3, 0, 2, 1].map((place) => estimate(place)),
};

describe('occupations, as they were joined and tested together', () => {
  it.each(Object.entries(OCCUPATIONS))('%s', async (name, estimates) => {
    const times = { correlationHorizontalS: 900, correlationVerticalS: 2500 };
    const record = { joined: combineOccupations(estimates, times), test: jointTest(estimates, times, 0.01) };
    await expect(keptRecord(record)).toMatchFileSnapshot(`./joined/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });
});
