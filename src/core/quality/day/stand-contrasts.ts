import {
  correlationAfter,
  isTimed,
  middleMs,
  middleSeparationS,
  RECORDING_VARIANCE_M2,
} from '../../observation/repeats/occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from '../../observation/repeats/occupation-estimate.js';
import { present } from '../../../records/present.js';

/** What of an occupation its estimate does not say. */
export interface OwnPart {
  /** What of its independent part is not the planning model's, m² (one axis in plan, and height). */
  readonly planM2: number;
  readonly upM2: number;
  /** True azimuth of the line from its base, radians; null: not known. */
  readonly azimuthRad: number | null;
}

/** A value along east, north and up. */
export type ByAxis = readonly [number, number, number];

/** A stand as other contrasts may share in it. */
export interface ContrastedStand {
  readonly markKey: string;
  readonly azimuthRad: number | null;
  readonly middleMs: number | null;
  /** One sigma of its slow errors that do not grow with the baseline, and that do, metres. */
  readonly constantM: ByAxis;
  readonly growingM: ByAxis;
}

/**
 * A difference that should be nothing, and its variance, m²: of the planning model what does not grow with the baseline (noise, slow
 * errors, age of the corrections) and what does; and what is not the model's (poles, set-ups that differ, control, recording).
 */
export interface BaselineContrast {
  readonly axis: 'east' | 'north' | 'up';
  readonly baselineM: number;
  readonly differenceM: number;
  readonly constantM2: number;
  readonly growingM2: number;
  readonly otherM2: number;
  readonly tauS: number;
  /** Stands of the point, which its other contrasts hold too, and the shares that the first of them have in the difference. */
  readonly stands: readonly ContrastedStand[];
  readonly shares: readonly number[];
}

/** Of more occupations from one mark, each ten after each other are contrasted among themselves: time grows with the count. */
export const MOST_CONTRASTED = 10;

/**
 * What the occupations of one point say of the precision of the day: each less the weighted mean of those before it from the same
 * mark, axis by axis. The point, the error of the mark and, within one set-up, that of the set-up fall out.
 *
 * Given: estimates about one origin; of each what of `independent` is not the planning model's; correlation times. Returned:
 * contrasts; none of occupations whose baseline is not known, or that the model gives no variance.
 *
 * Notes: with weights by variance the contrasts are independent as far as the errors of the occupations are, and exactly where
 * these have one ratio of model to rest; slow errors still correlated between them are held in their variances.
 *
 * Reference: Helmert contrasts (textbook); the covariances are those of `repeatTest`.
 */
export function standContrasts(
  estimates: readonly OccupationEstimate[],
  own: readonly OwnPart[],
  times: CorrelationTimes,
): readonly BaselineContrast[] {
  const stands = estimates.map((estimate, index): HeldStand => ({
    estimate,
    own: own[index] ?? { planM2: 0, upM2: 0, azimuthRad: null },
  }));
  if (estimates.every(isTimed)) stands.sort((a, b) => middleMs(a.estimate) - middleMs(b.estimate));
  const marks = new Map<string, HeldStand[]>();
  for (const stand of stands) {
    const { markKey, baselineM } = stand.estimate;
    if (markKey === null || baselineM === null) continue;
    const group = marks.get(markKey);
    if (group === undefined) marks.set(markKey, [stand]);
    else group.push(stand);
  }
  const contrasts: BaselineContrast[] = [];
  for (const group of marks.values()) {
    for (let from = 0; from < group.length; from += MOST_CONTRASTED)
      addContrasts(group.slice(from, from + MOST_CONTRASTED), times, contrasts);
  }
  return contrasts;
}

interface HeldStand {
  readonly estimate: OccupationEstimate;
  readonly own: OwnPart;
}

const AXES = [
  { axis: 'east', key: 'eeM2', along: 'eastM', own: 'planM2', tau: 'correlationHorizontalS' },
  { axis: 'north', key: 'nnM2', along: 'northM', own: 'planM2', tau: 'correlationHorizontalS' },
  { axis: 'up', key: 'uuM2', along: 'upM', own: 'upM2', tau: 'correlationVerticalS' },
] as const;
type Axis = (typeof AXES)[number];

function addContrasts(stands: readonly HeldStand[], times: CorrelationTimes, contrasts: BaselineContrast[]): void {
  // A baseline that is not known is no longer than any.
  const baselineM = stands.reduce((most, { estimate }) => Math.max(most, estimate.baselineM ?? 0), 0);
  const contrasted = stands.map(contrastedStand);
  for (const axis of AXES) {
    for (let last = 1; last < stands.length; last += 1) {
      const used = stands.slice(0, last + 1);
      const weights = used.map((stand, place) => (place === last ? 0 : 1 / varianceOf(stand, axis)));
      const sum = weights.reduce((total, weight) => total + weight, 0);
      const shares = weights.map((weight, place) => (place === last ? 1 : -weight / sum));
      const contrast = contrastOf(used, shares, axis, times, baselineM);
      if (contrast.constantM2 + contrast.growingM2 > 0) contrasts.push({ ...contrast, stands: contrasted, shares });
    }
  }
}

function contrastOf(
  stands: readonly HeldStand[],
  shares: readonly number[],
  axis: Axis,
  times: CorrelationTimes,
  baselineM: number,
): Omit<BaselineContrast, 'stands' | 'shares'> {
  let [differenceM, constantM2, growingM2, otherM2] = [0, 0, 0, 0];
  stands.forEach((stand, i) => {
    const share = shares[i] as number;
    const { estimate } = stand;
    const [constant, growing] = [estimate.correlated[axis.key], estimate.baseline[axis.key]].map((value) =>
      Math.max(0, value),
    ) as [number, number];
    differenceM += share * estimate.position[axis.along];
    constantM2 += share * share * (noiseVariance(stand, axis) + constant);
    growingM2 += share * share * growing;
    otherM2 += share * share * otherVariance(stand, axis);
    for (let j = 0; j < i; j += 1) {
      const before = (stands[j] as HeldStand).estimate;
      const twice = 2 * share * (shares[j] as number);
      const separationS = middleSeparationS(before, estimate);
      const rho = separationS === null ? 0 : correlationAfter(separationS, times[axis.tau]);
      constantM2 += twice * rho * Math.sqrt(Math.max(0, before.correlated[axis.key]) * constant);
      growingM2 += twice * rho * Math.sqrt(Math.max(0, before.baseline[axis.key]) * growing);
      if (before.setupKey === estimate.setupKey)
        otherM2 += twice * Math.sqrt(Math.max(0, before.setup[axis.key]) * Math.max(0, estimate.setup[axis.key]));
    }
  });
  return {
    axis: axis.axis,
    baselineM,
    differenceM,
    constantM2: Math.max(0, constantM2),
    growingM2: Math.max(0, growingM2),
    otherM2: Math.max(0, otherM2),
    tauS: times[axis.tau],
  };
}

function contrastedStand({ estimate, own }: HeldStand): ContrastedStand {
  const { correlated, baseline } = estimate;
  const root = (value: number): number => Math.sqrt(Math.max(0, value));
  return {
    markKey: present(estimate.markKey, 'the mark of an occupation that is compared'),
    azimuthRad: own.azimuthRad,
    middleMs: isTimed(estimate) ? middleMs(estimate) : null,
    constantM: [root(correlated.eeM2), root(correlated.nnM2), root(correlated.uuM2)],
    growingM: [root(baseline.eeM2), root(baseline.nnM2), root(baseline.uuM2)],
  };
}

function noiseVariance({ estimate, own }: HeldStand, axis: Axis): number {
  return Math.max(0, estimate.independent[axis.key] - own[axis.own]);
}

function otherVariance({ estimate, own }: HeldStand, axis: Axis): number {
  return own[axis.own] + estimate.setup[axis.key] + RECORDING_VARIANCE_M2;
}

function varianceOf(stand: HeldStand, axis: Axis): number {
  return (
    noiseVariance(stand, axis) +
    stand.estimate.correlated[axis.key] +
    stand.estimate.baseline[axis.key] +
    otherVariance(stand, axis)
  );
}
