import { normalQuantile } from '../../numeric/distributions/normal-quantile.js';
import { ANTENNA_MOVING_LEVEL } from '../../quality/decision-levels.js';

/** Whether an antenna stood still, and how it was judged. */
export interface AntennaMoving {
  /** Mean of the last third of the epochs minus mean of the first third, horizontal metres. */
  readonly displacementM: number;
  /** The same in height, upward, metres. */
  readonly riseM: number;
  /** That way, in plan and height, over the time between the thirds' mean times, m/s; null: no time passed. */
  readonly speedMetresPerSecond: number | null;
  /** Root mean square horizontal distance from the mean position, metres. */
  readonly spreadM: number;
  /** Root mean square height from the mean height, metres. */
  readonly spreadUpM: number;
  readonly isMoving: boolean;
}

/** The most an epoch of a standing antenna scatters, one sigma, metres. */
export interface MostScatter {
  /** Per horizontal axis. */
  readonly horizontalM: number;
  readonly verticalM: number;
}

/** The accepted epochs, metres about any origin. */
export interface EpochTrack {
  /** Seconds, never falling. */
  readonly timesS: ArrayLike<number>;
  readonly east: ArrayLike<number>;
  readonly north: ArrayLike<number>;
  readonly up: ArrayLike<number>;
}

const LEAST_DISPLACEMENT_M = 0.03;
const LEAST_SPEED_METRES_PER_SECOND = 0.02;
const LEAST_SPREAD_M = 0.05;
/** Half of the level in plan, where two axes of one sigma make a Rayleigh distance; half in height. */
const PLAN_SIGMAS = Math.sqrt(-2 * Math.log(ANTENNA_MOVING_LEVEL / 2));
const HEIGHT_SIGMAS = normalQuantile(1 - ANTENNA_MOVING_LEVEL / 4);
/** A spread that no count of epochs reaches in a thousandth of standing antennas. */
const SPREAD_SIGMAS = 3;
/** Epochs closer in time than this share their fast noise, seconds; common practice, no published source. */
const NOISE_CHANGES_IN_S = 1;
const STILL: AntennaMoving = Object.freeze({
  displacementM: 0,
  riseM: 0,
  speedMetresPerSecond: null,
  spreadM: 0,
  spreadUpM: 0,
  isMoving: false,
});

/**
 * Whether an antenna moved during an occupation.
 *
 * It moved where it was displaced, from the mean of the first third of the epochs to that of the last, by more than
 * 3 cm and 3.90 σ_d in plan or 3.48 σ_d in height at a speed above 2 cm/s; or where the epochs spread about their mean
 * by more than 5 cm and 3 σ, in plan or in height, as on a walk that returns. σ_d = σ√(2/k), k the epochs of a third,
 * counted at most once a second. Slower creep is the matter of `trendTest`.
 *
 * Given: the accepted epochs (`withoutOutliers`); the most that one of them scatters while the antenna stands.
 *
 * Reference: the sigmas follow from `ANTENNA_MOVING_LEVEL`; the least lengths and speed are common practice, no
 * published source; see docs/methods/averaging.md.
 */
export function antennaMoving(track: EpochTrack, most: MostScatter): AntennaMoving {
  const { timesS, east, north, up } = track;
  const count = timesS.length;
  if (count < 2) return STILL;
  const third = Math.floor((count + 2) / 3);
  const elapsedS = lateMinusEarly(timesS, third);
  const displacementM = Math.hypot(lateMinusEarly(east, third), lateMinusEarly(north, third));
  const riseM = lateMinusEarly(up, third);
  const spreadM = Math.sqrt(variance(east) + variance(north));
  const spreadUpM = Math.sqrt(variance(up));
  const speedMetresPerSecond = elapsedS > 0 ? Math.hypot(displacementM, riseM) / elapsedS : null;
  const thirdS = (timesS[third - 1] as number) - (timesS[0] as number);
  const independent = Math.min(third, 1 + Math.floor(thirdS / NOISE_CHANGES_IN_S));
  const perSigma = Math.sqrt(2 / independent);
  const isFast = (lengthM: number): boolean => elapsedS > 0 && lengthM > LEAST_SPEED_METRES_PER_SECOND * elapsedS;
  const riseSizeM = Math.abs(riseM);
  const displaced =
    (isFast(displacementM) &&
      displacementM > Math.max(LEAST_DISPLACEMENT_M, PLAN_SIGMAS * perSigma * most.horizontalM)) ||
    (isFast(riseSizeM) && riseSizeM > Math.max(LEAST_DISPLACEMENT_M, HEIGHT_SIGMAS * perSigma * most.verticalM));
  const spread =
    spreadM > Math.max(LEAST_SPREAD_M, SPREAD_SIGMAS * most.horizontalM) ||
    spreadUpM > Math.max(LEAST_SPREAD_M, SPREAD_SIGMAS * most.verticalM);
  return { displacementM, riseM, speedMetresPerSecond, spreadM, spreadUpM, isMoving: displaced || spread };
}

function lateMinusEarly(values: ArrayLike<number>, third: number): number {
  const origin = values[0] as number;
  let sum = 0;
  for (let i = 0; i < third; i += 1)
    sum += (values[values.length - 1 - i] as number) - origin - ((values[i] as number) - origin);
  return sum / third;
}

/** Mean square about the mean. */
function variance(values: ArrayLike<number>): number {
  const origin = values[0] as number;
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < values.length; i += 1) {
    const value = (values[i] as number) - origin;
    sum += value;
    squares += value * value;
  }
  return Math.max(0, squares / values.length - (sum / values.length) ** 2);
}
