import { antennaMoving } from '../core/observation/antenna-moving.js';
import type { AntennaMoving } from '../core/observation/antenna-moving.js';
import { fastNoise } from '../core/observation/fast-noise.js';
import { trendTest } from '../core/observation/trend-test.js';
import type { TrendTest } from '../core/observation/trend-test.js';
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
  const { average, timesS, east, north, up } = epochs;
  const motion = antennaMoving(timesS, east, north, prediction.horizontal.totalM);
  const keep = average.outlierCount > 0 && average.usedCount > 0 ? average.outlier : null;
  const times = kept(timesS, keep);
  const axis = (values: Float64Array, correlatedM: number, correlationS: number): TrendTest =>
    trendTest(times, kept(values, keep), { whiteM: fastNoise(values, keep) ?? 0, correlatedM, correlationS });
  const { horizontal, vertical, correlationHorizontalS, correlationVerticalS } = prediction;
  return {
    motion,
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

function kept(values: Float64Array, screened: Uint8Array | null): Float64Array {
  return screened === null ? values : values.filter((_, index) => screened[index] === 0);
}
