import { antennaMoving } from '../../../core/observation/stand-tests/antenna-moving.js';
import type { AntennaMoving } from '../../../core/observation/stand-tests/antenna-moving.js';
import { mostScatter } from '../../../core/observation/averaging/expected-scatter.js';
import { scatterIsLarge, standAgreement } from '../../../core/observation/stand-tests/stand-agreement.js';
import type { StandAgreement } from '../../../core/observation/stand-tests/stand-agreement.js';
import { trendTest } from '../../../core/observation/stand-tests/trend-test.js';
import type { AxisNoise, TrendTest } from '../../../core/observation/stand-tests/trend-test.js';
import { withoutOutliers } from '../../../core/observation/averaging/without-outliers.js';
import type { PredictedAxis, PredictedPrecision } from '../../../core/planning/precision-model.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { AveragedEpochs } from '../epochs/average-epochs.js';

/** What the epochs of an occupation say of each other and of the antenna: standing, drifting, stepping, walking. */
export interface OccupationTests {
  readonly agreement: StandAgreement;
  /** The epochs kept scatter more than is allowed to clean ones. */
  readonly scatterIsLarge: boolean;
  readonly motion: AntennaMoving;
  readonly east: TrendTest;
  readonly north: TrendTest;
  readonly up: TrendTest;
}

/** Epochs in a local frame, what they were expected to scatter, and their mean. */
export type TestedEpochs = Pick<AveragedEpochs, 'timesS' | 'east' | 'north' | 'up' | 'expected' | 'average'>;

/** Tests the accepted epochs against what the planning model expects; for motion and trends lone outliers are left out. */
export function testOccupation(epochs: TestedEpochs, prediction: PredictedPrecision): OccupationTests {
  const { average, expected } = epochs;
  const timesS = withoutOutliers(epochs.timesS, average);
  const east = withoutOutliers(epochs.east, average);
  const north = withoutOutliers(epochs.north, average);
  const up = withoutOutliers(epochs.up, average);
  const { horizontal, vertical, correlationHorizontalS, correlationVerticalS } = prediction;
  const inPlan = slowNoise(horizontal, correlationHorizontalS);
  return {
    agreement: standAgreement(average),
    scatterIsLarge: scatterIsLarge(epochs.east, epochs.north, epochs.up, average, expected),
    motion: antennaMoving({ timesS, east, north, up }, mostScatter(expected)),
    east: trendTest(timesS, east, inPlan),
    north: trendTest(timesS, north, inPlan),
    up: trendTest(timesS, up, slowNoise(vertical, correlationVerticalS)),
  };
}

function slowNoise({ constantM, totalM }: PredictedAxis, correlationS: number): AxisNoise {
  return { constantM, growingM: Math.sqrt(Math.max(0, totalM * totalM - constantM * constantM)), correlationS };
}

const AGREEMENT_REASONS: Readonly<Record<StandAgreement, ProblemCode | null>> = {
  agree: null,
  'few-agree': 'point-few-agree',
  'many-outliers': 'point-many-outliers',
  disagree: 'point-epochs-disagree',
};

/** The reasons the tests give. An antenna that moved explains all others; drift and step explain a large scatter. */
export function testReasons(tests: OccupationTests): readonly ProblemCode[] {
  if (tests.motion.isMoving) return ['point-antenna-moving'];
  const reasons: ProblemCode[] = [];
  const agreement = AGREEMENT_REASONS[tests.agreement];
  if (agreement !== null) reasons.push(agreement);
  const axes = [tests.east, tests.north, tests.up];
  if (axes.some((axis) => axis.isDrift)) reasons.push('point-drift');
  if (axes.some((axis) => axis.isStep)) reasons.push('point-step');
  if (tests.scatterIsLarge && !reasons.includes('point-drift') && !reasons.includes('point-step'))
    reasons.push('point-scatter-large');
  return reasons;
}
