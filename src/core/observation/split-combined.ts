import type { LocalCovariance } from '../../records/point.js';
import type { UncertaintyParts } from '../../records/reduced-point.js';
import { congruence3 } from '../numeric/symmetric3.js';
import type { Matrix3, Symmetric3 } from '../numeric/symmetric3.js';
import { RECORDING_VARIANCE_M2, sharedErrors } from './combine-occupations.js';
import { lessCovariance, sumCovariance, ZERO_COVARIANCE } from './local-covariance.js';
import { correlationAfter, middleSeparationS, slowCross } from './occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from './occupation-estimate.js';

/** The parts of the covariance of joined occupations, m²; their sum is that covariance. */
export type CombinedParts = Pick<UncertaintyParts, 'noise' | 'correlated' | 'baseline' | 'age' | 'pole' | 'base' | 'bend'>;

/** The parts of an occupation that its estimate holds within others, m². */
export interface HeldParts {
  /** Within `independent`. */
  readonly pole: LocalCovariance;
  /** Within `correlated`. */
  readonly age: LocalCovariance;
  /** Within `setup`. */
  readonly bend: LocalCovariance;
}

/** The part of the covariance between occupations i and j, m²; j = i gives the occupation's own. */
type Cross = (i: number, j: number) => LocalCovariance;

/**
 * What the covariance of joined occupations is made of. The joined position is Σ Wᵢxᵢ, and the covariance of
 * the x is a sum of independent parts, so the covariance of the position is the sum of Σᵢⱼ Wᵢ Pᵢⱼ Wⱼᵀ over the
 * parts P. Noise and pole belong to one occupation alone and shrink with their count; slow errors shrink as far
 * as time lies between; the error of a shared mark or set-up does not shrink. What is left of the slow error that does not grow
 * is shared out to the age of the corrections as its variances before the joining were, axis by axis.
 *
 * Given: the estimates and times that `combineOccupations` was given; the parts that each holds within others, m²; the weights it
 * returned. Returned: the parts, m². The recording variance
 * counts as noise.
 *
 * Reference: textbook identity, the covariance of Wx is W C Wᵀ; the tests hold the sum of the parts against
 * `combineOccupations`.
 */
export function splitCombined(
  estimates: readonly OccupationEstimate[],
  held: readonly HeldParts[],
  times: CorrelationTimes,
  weights: readonly Matrix3[],
): CombinedParts {
  const timed = estimates.every((estimate) => estimate.startMs !== null && estimate.endMs !== null);
  const own = (of: (estimate: OccupationEstimate, index: number) => LocalCovariance): Cross => (i, j) => {
    return i === j ? of(estimates[i] as OccupationEstimate, i) : ZERO_COVARIANCE;
  };
  const slow = (of: (estimate: OccupationEstimate) => LocalCovariance, needsOneMark: boolean): Cross => (i, j) => {
    const [a, b] = [estimates[i] as OccupationEstimate, estimates[j] as OccupationEstimate];
    if (i === j) return of(a);
    if (needsOneMark && a.markKey !== b.markKey) return ZERO_COVARIANCE;
    const separationS = middleSeparationS(a, b) ?? 0;
    const rho = (tauS: number): number => (timed ? correlationAfter(separationS, tauS) : 1);
    const along = (key: 'eeM2' | 'nnM2' | 'uuM2', tauS: number): number => slowCross(of(a)[key], of(b)[key], 0, 0, rho(tauS), true);
    return { ...ZERO_COVARIANCE, eeM2: along('eeM2', times.correlationHorizontalS), nnM2: along('nnM2', times.correlationHorizontalS), uuM2: along('uuM2', times.correlationVerticalS) };
  };
  const heldBy = (index: number): HeldParts => held[index] as HeldParts;
  const { marks, setups } = sharedErrors(estimates);
  /** As in the joining: one matrix for one set-up, the first's. */
  const bends = estimates.map(({ markKey, setupKey }) => heldBy(estimates.findIndex((other) => other.markKey === markKey && other.setupKey === setupKey)).bend);
  const shared = (ofMark: readonly LocalCovariance[] | null, ofSetup: (index: number) => LocalCovariance): Cross => (i, j) => {
    const [a, b] = [estimates[i] as OccupationEstimate, estimates[j] as OccupationEstimate];
    if (a.markKey !== b.markKey) return ZERO_COVARIANCE;
    const mark = ofMark?.[i] ?? ZERO_COVARIANCE;
    return a.setupKey === b.setupKey ? sumCovariance(mark, ofSetup(i)) : mark;
  };
  const poleOf = (index: number): LocalCovariance => heldBy(index).pole;
  const constant = carried(weights, slow((estimate) => estimate.correlated, false));
  const age = shareOf(constant, held.map((parts) => parts.age), estimates);
  return {
    noise: carried(weights, own((estimate, index) => noiseOf(estimate.independent, poleOf(index)))),
    correlated: sumCovariance(constant, { ...ZERO_COVARIANCE, eeM2: -age.eeM2, nnM2: -age.nnM2, uuM2: -age.uuM2 }),
    baseline: carried(weights, slow((estimate) => estimate.baseline, true)),
    age,
    pole: carried(weights, own((_, index) => poleOf(index))),
    base: carried(weights, shared(marks, (index) => lessCovariance(setups[index] as LocalCovariance, bends[index] as LocalCovariance))),
    bend: carried(weights, shared(null, (index) => bends[index] as LocalCovariance)),
  };
}

/** The age's share of the variances of what is left of the slow error. */
function shareOf(left: LocalCovariance, ages: readonly LocalCovariance[], estimates: readonly OccupationEstimate[]): LocalCovariance {
  if (ages.every((age) => age === ZERO_COVARIANCE)) return ZERO_COVARIANCE;
  const along = (key: 'eeM2' | 'nnM2' | 'uuM2'): number => {
    const whole = estimates.reduce((sum, { correlated }) => sum + correlated[key], 0);
    return whole === 0 ? 0 : (left[key] * ages.reduce((sum, age) => sum + age[key], 0)) / whole;
  };
  return { ...ZERO_COVARIANCE, eeM2: along('eeM2'), nnM2: along('nnM2'), uuM2: along('uuM2') };
}

function noiseOf(independent: LocalCovariance, pole: LocalCovariance): LocalCovariance {
  const less = (key: keyof LocalCovariance): number => independent[key] - pole[key];
  return {
    eeM2: less('eeM2') + RECORDING_VARIANCE_M2, enM2: less('enM2'), euM2: less('euM2'),
    nnM2: less('nnM2') + RECORDING_VARIANCE_M2, nuM2: less('nuM2'), uuM2: less('uuM2') + RECORDING_VARIANCE_M2,
  };
}

/** Σᵢⱼ Wᵢ Pᵢⱼ Wⱼᵀ for symmetric P: pairs by (Wᵢ + Wⱼ)P(Wᵢ + Wⱼ)ᵀ less each alone. */
function carried(weights: readonly Matrix3[], cross: Cross): LocalCovariance {
  let sum = ZERO_COVARIANCE;
  for (const [i, a] of weights.entries()) {
    sum = sumCovariance(sum, through(a, cross(i, i), 1));
    for (const [j, b] of weights.slice(0, i).entries()) {
      const part = cross(i, j);
      if (part === ZERO_COVARIANCE) continue;
      sum = sumCovariance(sum, through(sumOf(a, b), part, 1));
      sum = sumCovariance(sum, through(a, part, -1));
      sum = sumCovariance(sum, through(b, part, -1));
    }
  }
  return sum;
}

function through(weight: Matrix3, { eeM2, enM2, euM2, nnM2, nuM2, uuM2 }: LocalCovariance, sign: 1 | -1): LocalCovariance {
  const own: Symmetric3 = { xx: eeM2, xy: enM2, xz: euM2, yy: nnM2, yz: nuM2, zz: uuM2 };
  const { xx, xy, xz, yy, yz, zz } = congruence3(weight, own);
  return { eeM2: sign * xx, enM2: sign * xy, euM2: sign * xz, nnM2: sign * yy, nuM2: sign * yz, uuM2: sign * zz };
}

function sumOf(a: Matrix3, b: Matrix3): Matrix3 {
  return { xx: a.xx + b.xx, xy: a.xy + b.xy, xz: a.xz + b.xz, yx: a.yx + b.yx, yy: a.yy + b.yy, yz: a.yz + b.yz, zx: a.zx + b.zx, zy: a.zy + b.zy, zz: a.zz + b.zz };
}
