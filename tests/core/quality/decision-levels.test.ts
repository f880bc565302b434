import { expect, it } from 'vitest';
import * as levels from '../../../src/core/quality/decision-levels.js';

// Choices of ours, no published source: a level that is changed changes how often its rule is wrong, so that the rates of docs/methods
// have to be measured anew (`npm run rates`) and this table with them.
it('the levels of the decision rules are those that their rates were measured with', () => {
  const tenToOne: unknown = expect.closeTo(4.605_170_185_988, 12); // 2 ln 10
  expect({ ...levels }).toEqual({
    ...{ CHECK_NOISE_LEVEL: 0.01, SITE_LEVEL: 0.01, SITE_FACTOR_PART: 0.4, SITE_POINT_PART: 0.4 },
    ...{ SITE_DIAGNOSIS_PART: 0.2, SITE_CURVATURE_LEVEL: 0.01, SURFACE_TREND_LEVEL: 0.05, HEIGHT_TRANSFER_LEVEL: 0.01 },
    ...{ NOISY_DAY_LEVEL: 0.01, NOISE_OF_ALL_LEVEL: 0.01, BLUNDER_IN_DAY_LEVEL: 0.001, NOISE_PART_LEAD: tenToOne },
    ...{ EPOCH_SCREEN_LEVEL: 0.005, TWO_EPOCHS_LEVEL: 0.005, SCATTER_LEVEL: 0.001, ANTENNA_MOVING_LEVEL: 0.001 },
    ...{ DRIFT_LEVEL: 0.002, STEP_LEVEL: 0.002, SCATTER_ALLOWANCE: 1.5, CORRELATION_ALLOWANCE: 3 },
    ...{ REPEATS_RUN_LEVEL: 0.01, COMPARISON_LEVEL: 0.01, SAME_OBSERVATIONS_SHARE: 0.1, ODD_STAND_LEAD: tenToOne },
    ...{ REPEAT_LEAST_GAIN: 0.05, FALSE_CAUSE_LEVEL: 0.005, LONG_TAIL_LEVEL: 0.005, LEFT_OVER_LEVEL: 0.001 },
    ...{ REST_LOUD_LEVEL: 0.02, DISTURBED_LEVEL: 0.01, MOVED_LEVEL: 0.01, MOVED_LEAD: tenToOne },
  });
});
