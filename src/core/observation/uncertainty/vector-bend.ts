import { RADIANS_PER_DEGREE } from '../../numeric/angle-units.js';
import { emptyCovariance } from '../../ellipsoid/local-frame.js';
import type { Draft } from '../../../records/draft.js';
import type { LocalCovariance, LocalVector } from '../../../records/points/point.js';
import { ZERO_COVARIANCE } from './local-covariance.js';

/** One sigma of the bend of a vector: along the baseline in plan, across it in plan, and in height, metres. */
export interface VectorBend {
  readonly alongM: number;
  readonly acrossM: number;
  readonly upM: number;
}

/**
 * Bend per metre of base error and metre of baseline, root mean square over a simulated day; see docs/methods/base-correction.md,
 * "What remains". First word: what bends; second: the direction of the base's error.
 */
const ALONG_BY_UP = 0.028e-6;
const ACROSS_BY_UP = 0.002e-6;
const PLAN_BY_PLAN = 0.005e-6;
const UP_BY_ALONG = 0.04e-6;
const UP_BY_ACROSS = 0.011e-6;
const UP_BY_UP = 0.0065e-6;

/** From this share of the variance of plan or height the bend matters: the figure is then a fifth larger for it. */
export const BEND_SHARE_THAT_MATTERS: number = 1 / 3;

/** From this share of a 95 % tolerance the bend's own 95 % figure matters. */
export const BEND_SHARE_OF_TOLERANCE: number = 1 / 3;

/** Beyond this no baseline is asked about, metres. */
export const BEND_FARTHEST_M = 200_000;

/**
 * What a wrong base coordinate did to the vector itself while it was measured, one sigma. A base too high or low stretches
 * vectors; a base wrong along the baseline tilts them; a base wrong across it hardly matters.
 *
 * Given: the base correction in east, north, up at the base, metres; baseline, metres; its azimuth at the base, degrees.
 *
 * Notes: the bend hardly changes over a day (nine tenths of its mean square is its mean): every point of a base set-up at one
 * place shares it, and neither averaging nor repeating reduces it.
 *
 * Reference: û·e + c ≈ (u_b − u_r)·Δ by weighted least squares over a simulated sky, docs/methods/base-correction.md.
 */
export function vectorBend(delta: LocalVector, baselineM: number, azimuthDeg: number): VectorBend {
  const azimuth = azimuthDeg * RADIANS_PER_DEGREE;
  const sin = Math.sin(azimuth);
  const cos = Math.cos(azimuth);
  return bendOf(delta.eastM * sin + delta.northM * cos, delta.eastM * cos - delta.northM * sin, delta.upM, baselineM);
}

function bendOf(alongM: number, acrossM: number, upM: number, baselineM: number): VectorBend {
  const planSquare = PLAN_BY_PLAN * PLAN_BY_PLAN * (alongM * alongM + acrossM * acrossM);
  const upSquare = upM * upM;
  return {
    alongM: baselineM * Math.sqrt(planSquare + ALONG_BY_UP * ALONG_BY_UP * upSquare),
    acrossM: baselineM * Math.sqrt(planSquare + ACROSS_BY_UP * ACROSS_BY_UP * upSquare),
    upM:
      baselineM *
      Math.sqrt(
        UP_BY_ALONG * UP_BY_ALONG * alongM * alongM +
          UP_BY_ACROSS * UP_BY_ACROSS * acrossM * acrossM +
          UP_BY_UP * UP_BY_UP * upSquare,
      ),
  };
}

/** The greatest bend over all directions of the baseline; given and returned as for `vectorBend`. */
export function greatestBend(delta: LocalVector, baselineM: number): VectorBend {
  return bendOf(Math.hypot(delta.eastM, delta.northM), 0, delta.upM, baselineM);
}

/**
 * The bend as a covariance at the point, m².
 *
 * Given: as for `vectorBend`; azimuth null: base and point coincide, and nothing is bent; a record to be filled.
 */
export function bendCovariance(
  delta: LocalVector,
  baselineM: number,
  azimuthDeg: number | null,
  bend: Draft<LocalCovariance> = emptyCovariance(),
): LocalCovariance {
  if (azimuthDeg === null) return ZERO_COVARIANCE;
  const { alongM, acrossM, upM } = vectorBend(delta, baselineM, azimuthDeg);
  const azimuth = azimuthDeg * RADIANS_PER_DEGREE;
  const sin = Math.sin(azimuth);
  const cos = Math.cos(azimuth);
  const along = alongM * alongM;
  const across = acrossM * acrossM;
  bend.eeM2 = along * sin * sin + across * cos * cos;
  bend.enM2 = (along - across) * sin * cos;
  bend.euM2 = 0;
  bend.nnM2 = along * cos * cos + across * sin * sin;
  bend.nuM2 = 0;
  bend.uuM2 = upM * upM;
  return bend;
}

/**
 * Whether the bend is a third or more of the variance of plan or height that it is part of, m²; `geoidVarianceM2` is in the height
 * beside what `total` holds.
 */
export function bendMatters(bend: LocalCovariance, total: LocalCovariance, geoidVarianceM2: number = 0): boolean {
  return (
    bend.eeM2 + bend.nnM2 > BEND_SHARE_THAT_MATTERS * (total.eeM2 + total.nnM2) ||
    bend.uuM2 > BEND_SHARE_THAT_MATTERS * (total.uuM2 + geoidVarianceM2)
  );
}

/** What else a point is worth at a baseline: sums of both horizontal variances and the vertical one without the bend, m². */
export type OtherVariance = (baselineM: number) => { readonly planM2: number; readonly upM2: number };

/**
 * The shortest baseline from which the bend matters beside the rest of the error, in the direction that bends most.
 *
 * Given: the base correction at the base; the other variance, which grows less than with the square of the baseline or not
 * beyond it. Returned: metres; null: not up to `BEND_FARTHEST_M`.
 */
export function bendMattersFromM(delta: LocalVector, other: OtherVariance): number | null {
  const ratio = (baselineM: number): number => {
    const { alongM, acrossM, upM } = greatestBend(delta, baselineM);
    const { planM2, upM2 } = other(baselineM);
    const share = (bend: number, rest: number): number => (bend === 0 ? 0 : bend / (bend + rest));
    return Math.max(share(alongM * alongM + acrossM * acrossM, planM2), share(upM * upM, upM2));
  };
  if (!(ratio(BEND_FARTHEST_M) > BEND_SHARE_THAT_MATTERS)) return null;
  let belowM = 0;
  let aboveM = BEND_FARTHEST_M;
  while (aboveM - belowM > 0.5) {
    const middleM = 0.5 * (belowM + aboveM);
    if (ratio(middleM) > BEND_SHARE_THAT_MATTERS) aboveM = middleM;
    else belowM = middleM;
  }
  return aboveM;
}
