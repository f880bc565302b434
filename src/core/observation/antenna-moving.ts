/** Whether an antenna stood still, and how it was judged. */
export interface AntennaMoving {
  /** Mean of the last third of the epochs minus mean of the first third, horizontal metres. */
  readonly displacementM: number;
  /** That over the time between the thirds' mean times, m/s; null: no time passed. */
  readonly speedMetresPerSecond: number | null;
  /** Root mean square horizontal distance from the mean position, metres. */
  readonly spreadM: number;
  readonly isMoving: boolean;
}

const LEAST_DISPLACEMENT_M = 0.03;
const LEAST_SPEED_METRES_PER_SECOND = 0.02;
const LEAST_SPREAD_M = 0.05;
/** 3.29 sigmas of a difference of two epochs. */
const DISPLACEMENT_SIGMAS = 4.65;
const SPREAD_SIGMAS = 6;

/**
 * Whether the antenna moved during an occupation.
 *
 * It moved where it was displaced by more than 3 cm and 4.65 σ at a speed above 2 cm/s, or where the
 * epochs spread by more than 5 cm and 6 σ about their mean, as on a walk that returns. Slower creep
 * is the matter of `trendTest`.
 *
 * Given: times, seconds, never falling; east and north of the accepted epochs (`withoutOutliers`),
 * metres; σ expected of one epoch per horizontal axis, metres (the planning model's total).
 *
 * Reference: limits are common practice, no published source; see docs/methods/averaging.md.
 */
export function antennaMoving(
  timesS: ArrayLike<number>,
  east: ArrayLike<number>,
  north: ArrayLike<number>,
  expectedSigmaM: number,
): AntennaMoving {
  const count = timesS.length;
  const third = Math.floor((count + 2) / 3);
  if (count < 2) return { displacementM: 0, speedMetresPerSecond: null, spreadM: 0, isMoving: false };
  const originEast = east[0] as number;
  const originNorth = north[0] as number;
  const originS = timesS[0] as number;
  const first = { s: 0, east: 0, north: 0 };
  const last = { s: 0, east: 0, north: 0 };
  let sumEast = 0;
  let sumNorth = 0;
  let squares = 0;
  for (let i = 0; i < count; i += 1) {
    const e = (east[i] as number) - originEast;
    const n = (north[i] as number) - originNorth;
    const s = (timesS[i] as number) - originS;
    sumEast += e;
    sumNorth += n;
    squares += e * e + n * n;
    if (i < third) {
      first.s += s / third;
      first.east += e / third;
      first.north += n / third;
    }
    if (i >= count - third) {
      last.s += s / third;
      last.east += e / third;
      last.north += n / third;
    }
  }
  const displacementM = Math.hypot(last.east - first.east, last.north - first.north);
  const spreadM = Math.sqrt(
    Math.max(0, squares / count - (sumEast * sumEast + sumNorth * sumNorth) / (count * count)),
  );
  const elapsedS = last.s - first.s;
  const speedMetresPerSecond = elapsedS > 0 ? displacementM / elapsedS : null;
  const displaced =
    displacementM > Math.max(LEAST_DISPLACEMENT_M, DISPLACEMENT_SIGMAS * expectedSigmaM) &&
    speedMetresPerSecond !== null &&
    speedMetresPerSecond > LEAST_SPEED_METRES_PER_SECOND;
  const spread = spreadM > Math.max(LEAST_SPREAD_M, SPREAD_SIGMAS * expectedSigmaM);
  return { displacementM, speedMetresPerSecond, spreadM, isMoving: displaced || spread };
}
