import { correlationAfter, isTimed, middleMs, middleSeparationS, RECORDING_VARIANCE_M2, slowCross } from '../observation/occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from '../observation/occupation-estimate.js';
import type { Contrast } from './day-variance.js';

/** What of the independent part of an occupation is not the planning model's, m² (one axis in plan, and height). */
export interface OwnPart {
  readonly planM2: number;
  readonly upM2: number;
}

/** A contrast, and the baseline it was measured over. */
export interface BaselineContrast extends Contrast {
  readonly baselineM: number;
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
export function standContrasts(estimates: readonly OccupationEstimate[], own: readonly OwnPart[], times: CorrelationTimes): readonly BaselineContrast[] {
  const stands = estimates.map((estimate, index): HeldStand => ({ estimate, own: own[index] ?? { planM2: 0, upM2: 0 } }));
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
    for (let from = 0; from < group.length; from += MOST_CONTRASTED) addContrasts(group.slice(from, from + MOST_CONTRASTED), times, contrasts);
  }
  return contrasts;
}

interface HeldStand {
  readonly estimate: OccupationEstimate;
  readonly own: OwnPart;
}

const AXES = [
  { key: 'eeM2', along: 'eastM', own: 'planM2', tau: 'correlationHorizontalS' },
  { key: 'nnM2', along: 'northM', own: 'planM2', tau: 'correlationHorizontalS' },
  { key: 'uuM2', along: 'upM', own: 'upM2', tau: 'correlationVerticalS' },
] as const;
type Axis = (typeof AXES)[number];

function addContrasts(stands: readonly HeldStand[], times: CorrelationTimes, contrasts: BaselineContrast[]): void {
  const baselineM = stands.reduce((most, { estimate }) => Math.max(most, estimate.baselineM ?? 0), 0);
  for (const axis of AXES) {
    for (let last = 1; last < stands.length; last += 1) {
      const used = stands.slice(0, last + 1);
      const weights = used.map((stand, place) => (place === last ? 0 : 1 / (modelVariance(stand, axis) + otherVariance(stand, axis))));
      const sum = weights.reduce((total, weight) => total + weight, 0);
      const shares = weights.map((weight, place) => (place === last ? 1 : -weight / sum));
      const contrast = { baselineM, ...contrastOf(used, shares, axis, times) };
      if (contrast.modelM2 > 0) contrasts.push(contrast);
    }
  }
}

function contrastOf(stands: readonly HeldStand[], shares: readonly number[], axis: Axis, times: CorrelationTimes): Contrast {
  let differenceM = 0;
  let modelM2 = 0;
  let otherM2 = 0;
  stands.forEach((stand, i) => {
    const share = shares[i] as number;
    const { estimate } = stand;
    differenceM += share * estimate.position[axis.along];
    modelM2 += share * share * modelVariance(stand, axis);
    otherM2 += share * share * otherVariance(stand, axis);
    for (let j = 0; j < i; j += 1) {
      const before = (stands[j] as HeldStand).estimate;
      const twice = 2 * share * (shares[j] as number);
      const separationS = middleSeparationS(before, estimate);
      const rho = separationS === null ? 0 : correlationAfter(separationS, times[axis.tau]);
      modelM2 += twice * slowCross(before.correlated[axis.key], estimate.correlated[axis.key], before.baseline[axis.key], estimate.baseline[axis.key], rho, true);
      if (before.setupKey === estimate.setupKey) otherM2 += twice * Math.sqrt(Math.max(0, before.setup[axis.key]) * Math.max(0, estimate.setup[axis.key]));
    }
  });
  return { differenceM, modelM2, otherM2: Math.max(0, otherM2) };
}

function modelVariance({ estimate, own }: HeldStand, axis: Axis): number {
  return Math.max(0, estimate.independent[axis.key] - own[axis.own]) + estimate.correlated[axis.key] + estimate.baseline[axis.key];
}

function otherVariance({ estimate, own }: HeldStand, axis: Axis): number {
  return own[axis.own] + estimate.setup[axis.key] + RECORDING_VARIANCE_M2;
}
