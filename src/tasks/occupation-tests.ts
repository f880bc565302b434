import { antennaMoving } from '../core/observation/antenna-moving.js';
import type { AntennaMoving } from '../core/observation/antenna-moving.js';
import { fastNoise } from '../core/observation/fast-noise.js';
import { trendTest } from '../core/observation/trend-test.js';
import type { TrendTest } from '../core/observation/trend-test.js';
import { withoutOutliers } from '../core/observation/without-outliers.js';
import type { PredictedPrecision } from '../core/planning/precision-model.js';
import type { ProblemCode } from '../records/problem-codes.js';
import type { AveragedEpochs } from './average-epochs.js';

/** What the epochs of an occupation say about the antenna: standing, drifting, stepping, walking. */
export interface OccupationTests {
  readonly motion: AntennaMoving;
  readonly east: TrendTest;
  readonly north: TrendTest;
  readonly up: TrendTest;
}

/** Tests the accepted epochs, lone outliers left out, against what the planning model expects. */
export function testOccupation(epochs: AveragedEpochs, prediction: PredictedPrecision): OccupationTests {
  const { average } = epochs;
  const times = withoutOutliers(epochs.timesS, average);
  const east = withoutOutliers(epochs.east, average);
  const north = withoutOutliers(epochs.north, average);
  const up = withoutOutliers(epochs.up, average);
  const axis = (values: Float64Array, correlatedM: number, correlationS: number): TrendTest =>
    trendTest(times, values, { whiteM: fastNoise(values, null) ?? 0, correlatedM, correlationS });
  const { horizontal, vertical, correlationHorizontalS, correlationVerticalS } = prediction;
  return {
    motion: antennaMoving(times, east, north, horizontal.totalM),
    east: axis(east, horizontal.totalM, correlationHorizontalS),
    north: axis(north, horizontal.totalM, correlationHorizontalS),
    up: axis(up, vertical.totalM, correlationVerticalS),
  };
}

/** The reasons the tests give. */
export function testReasons(tests: OccupationTests): readonly ProblemCode[] {
  if (tests.motion.isMoving) return ['point-antenna-moving'];
  const axes = [tests.east, tests.north, tests.up];
  const reasons: ProblemCode[] = [];
  if (axes.some((axis) => axis.isDrift)) reasons.push('point-drift');
  if (axes.some((axis) => axis.isStep)) reasons.push('point-step');
  return reasons;
}
