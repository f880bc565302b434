import { describe, expect, it } from 'vitest';
import { localFrameAt } from '../../../src/core/ellipsoid/local-frame.js';
import { expectedScatter } from '../../../src/core/observation/averaging/expected-scatter.js';
import { trendTest } from '../../../src/core/observation/stand-tests/trend-test.js';
import type { PredictedPrecision } from '../../../src/core/planning/precision-model.js';
import type { GeocentricPoint } from '../../../src/records/points/point.js';
import type { EpochResult } from '../../../src/records/points/reduced-point.js';
import type { AveragedEpochs } from '../../../src/tasks/reduce/epochs/average-epochs.js';
import { epochResults } from '../../../src/tasks/reduce/epochs/epoch-results.js';
import { createPackedFixes } from '../../../src/tasks/reduce/packing/fix-packing.js';
import { occupationSpan } from '../../../src/tasks/reduce/occupations/occupation-span.js';
import { testOccupation } from '../../../src/tasks/reduce/occupations/occupation-tests.js';
import type { TestedEpochs } from '../../../src/tasks/reduce/occupations/occupation-tests.js';
import type { ReducedEpoch } from '../../../src/tasks/reduce/reduction-working.js';
import { makeFix } from '../../core/observation/make-fix.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';

const R = 6_378_137;
const MEAN: GeocentricPoint = { xM: R, yM: 0, zM: 0 };
/** On the equator at the meridian of Greenwich X is up, Y east and Z north. */
const reduced = (upM: number, eastM: number, northM: number, longitudeDeg = 0): ReducedEpoch =>
  ({
    geodetic: { latitudeDeg: 0, longitudeDeg, ellipsoidalHeightM: 0 },
    tip: { xM: R + upM, yM: eastM, zM: northM },
  }) as ReducedEpoch;
const averaged = (outlier: readonly number[], usedCount: number): AveragedEpochs =>
  ({
    frame: localFrameAt(0, 0),
    average: {
      outlier: Uint8Array.from(outlier),
      usedCount,
      weightsEast: Float64Array.of(1, 0.3, 0),
      weightsNorth: Float64Array.of(1, 0.6, 0),
      weightsUp: Float64Array.of(1, 0.9, 0),
    },
  }) as unknown as AveragedEpochs;
const fixes = [makeFix({ note: 'first' }), makeFix({ note: 'second' }), makeFix({ note: 'third' })];
const epochs = [reduced(0.01, 0.02, 0.03), reduced(0, 0, 0), reduced(-0.01, -0.02, -0.03)];
const none = [[], [], []] as const;
const close = (value: number): unknown => expect.closeTo(value, 9);

describe('what became of the epochs of an occupation', () => {
  it('of one alone: all its weight and no residual, or none where it gave no mean', () => {
    const one = (mean: GeocentricPoint | null): EpochResult | undefined =>
      epochResults([fixes[0]!], [epochs[0]!], [[]], [0], null, mean).at(0);
    expect(one(MEAN)).toMatchObject({ weight: 1, residual: { eastM: 0, northM: 0, upM: 0 }, refusals: [] });
    expect(one(null)).toMatchObject({ weight: 0, residual: null });
    expect(epochResults([fixes[0]!], [epochs[0]!], [['epoch-pdop']], [], null, null).at(0)?.refusals).toEqual([
      'epoch-pdop',
    ]);
  });

  it('of several: the mean of the weights of the axes, and east, north and up from the mean', () => {
    const found = [...epochResults(fixes, epochs, none, [0, 1, 2], averaged([0, 0, 0], 3), MEAN)];
    expect(found.map(({ weight }) => weight)).toEqual([1, close(0.6), 0]);
    expect(found.map(({ residual }) => residual)).toEqual([
      { eastM: close(0.02), northM: close(0.03), upM: close(0.01) },
      { eastM: close(0), northM: close(0), upM: close(0) },
      { eastM: close(-0.02), northM: close(-0.03), upM: close(-0.01) },
    ]);
    expect(found.map(({ fix }) => fix.note)).toEqual(['first', 'second', 'third']);
    expect(found[0]?.tip).toEqual(epochs[0]?.tip);
  });

  it('an outlier has no weight and says so; where nothing is used, none is an outlier of anything', () => {
    const found = [...epochResults(fixes, epochs, none, [0, 1, 2], averaged([0, 1, 0], 2), MEAN)];
    expect(found.map(({ weight, refusals }) => [weight, refusals])).toEqual([
      [1, []],
      [0, ['epoch-outlier']],
      [0, []],
    ]);
    const unused = [...epochResults(fixes, epochs, none, [0, 1, 2], averaged([0, 1, 0], 0), MEAN)];
    expect(unused[1]).toMatchObject({ weight: close(0.6), refusals: [] });
  });

  it('a refused one keeps its reason and has no weight; weights belong to the accepted in their order', () => {
    const codes = [['epoch-pdop'], [], []] as const;
    const found = [...epochResults(fixes, epochs, codes, [1, 2], averaged([0, 0], 2), MEAN)];
    expect(found.map(({ weight }) => weight)).toEqual([0, 1, close(0.6)]);
    expect(found.map(({ refusals }) => refusals)).toEqual([['epoch-pdop'], [], []]);
    // An accepted one without a mean of several counts whole.
    const single = [...epochResults(fixes, epochs, codes, [2], null, MEAN)];
    expect(single.map(({ weight }) => weight)).toEqual([0, 0, 1]);
  });

  it('is shown about the first accepted epoch where there is no average', () => {
    // A quarter around the equator Y is up, and east is against X.
    const far = [reduced(0.01, 0.02, 0.03), reduced(0.01, 0.02, 0.03, 90), reduced(0, 0, 0, 90)];
    const residuals = (accepted: readonly number[]): unknown =>
      [...epochResults(fixes, far, none, accepted, null, MEAN)][0]?.residual;
    expect(residuals([1])).toEqual({ eastM: close(-0.01), northM: close(0.03), upM: close(0.02) });
    expect(residuals([])).toEqual({ eastM: close(0.02), northM: close(0.03), upM: close(0.01) });
    expect([...epochResults(fixes, far, none, [], null, null)][0]?.residual).toBeNull();
  });
});

describe('the span of an occupation', () => {
  const at = (epochMs: number | null, weight: number, epochCount = 1): EpochResult =>
    ({ fix: makeFix({ epochMs, epochCount }), weight }) as EpochResult;
  const span = (...all: readonly EpochResult[]): unknown =>
    occupationSpan(
      all.map(({ fix }) => fix),
      all,
    );
  it('goes from the first epoch used to the last, and counts those of a mean', () => {
    expect(span(at(0, 0), at(1000, 1, 5), at(2000, 0, 2), at(31_000, 0.5), at(40_000, 0))).toEqual({
      firstMs: 1000,
      lastMs: 31_000,
      durationS: 30,
      used: 6,
      rejected: 4,
    });
  });

  it('ends with the last of all where none is used, of epochs that are packed too', () => {
    const all = [at(1000, 0), at(2000, 0), at(3500, 0)];
    const packed = createPackedFixes();
    for (const { fix } of all) packed.push(fix);
    expect(occupationSpan(packed, all)).toMatchObject({ firstMs: 1000, lastMs: 3500, durationS: 2.5 });
  });

  it('goes over all where none is used, and lasts no time where there are no times', () => {
    expect(span(at(1000, 0), at(3500, 0))).toEqual({
      firstMs: 1000,
      lastMs: 3500,
      durationS: 2.5,
      used: 0,
      rejected: 2,
    });
    expect(span(at(null, 1), at(null, 1))).toEqual({ firstMs: null, lastMs: null, durationS: 0, used: 2, rejected: 0 });
    expect(span(at(null, 1), at(5000, 1), at(null, 1))).toMatchObject({ firstMs: 5000, lastMs: 5000, durationS: 0 });
    expect(span(at(5000, 0), at(null, 0))).toMatchObject({ firstMs: 5000, lastMs: null, durationS: 0 });
    expect(span(at(null, 0), at(5000, 0))).toMatchObject({ firstMs: null, lastMs: 5000, durationS: 0 });
  });
});

describe('the tests of an occupation', () => {
  it('hold a trend against what does not grow with the baseline, and what does: 3 mm of 5 mm leave 4', () => {
    const timesS = Float64Array.from({ length: 60 }, (_, second) => second);
    // A drift of a millimetre and a half in ten seconds, and half a millimetre up and down.
    const drifting = timesS.map((second) => second * 0.000_15 + (second % 2) * 0.0005);
    const zero = timesS.map((second) => ((second * 7) % 5) * 0.0005);
    const average = {
      usedCount: 60,
      outlier: new Uint8Array(60),
      weightsEast: new Float64Array(60).fill(1),
      weightsNorth: new Float64Array(60).fill(1),
      weightsUp: new Float64Array(60).fill(1),
    };
    const prediction = {
      horizontal: { constantM: 0.003, totalM: 0.005 },
      vertical: { constantM: 0.006, totalM: 0.01 },
      correlationHorizontalS: 300,
      correlationVerticalS: 500,
    } as unknown as PredictedPrecision;
    const expected = expectedScatter({
      prediction: NORMAL_PRECISION.at(4000, 0),
      spanS: 60,
      pole: null,
      reportedHorizontalM: null,
      reportedVerticalM: null,
    });
    const found = testOccupation(
      { timesS, east: drifting, north: zero, up: drifting, average, expected } as unknown as TestedEpochs,
      prediction,
    );
    const plan = { constantM: 0.003, growingM: 0.004, correlationS: 300 };
    const height = { constantM: 0.006, growingM: 0.008, correlationS: 500 };
    expect(found.east).toEqual(trendTest(timesS, drifting, plan));
    expect(found.north).toEqual(trendTest(timesS, zero, plan));
    expect(found.up).toEqual(trendTest(timesS, drifting, height));
    expect(found.up.driftSigmaM).toBeGreaterThan(found.east.driftSigmaM);
  });
});
