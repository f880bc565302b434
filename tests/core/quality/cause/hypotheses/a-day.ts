import { WGS84 } from '../../../../../src/core/ellipsoid/ellipsoid.js';
import { covarianceFromSigmas } from '../../../../../src/core/observation/uncertainty/local-covariance.js';
import type { CauseContext } from '../../../../../src/core/quality/cause/cause-context.js';
import type { CauseDay, CausePoint } from '../../../../../src/core/quality/cause/cause-day.js';
import type { CauseModel } from '../../../../../src/core/quality/cause/cause-model.js';
import { observationList } from '../../../../../src/core/quality/cause/observation-list.js';
import { createWhitener } from '../../../../../src/core/quality/cause/whitener.js';

/** A check of control without a residual, where nothing else is said. */
export function causePoint(pointId: string, change: Partial<CausePoint> = {}): CausePoint {
  return {
    pointId,
    occupation: '',
    eastM: 0,
    northM: 0,
    upM: 0,
    latitudeDeg: null,
    longitudeDeg: null,
    convergenceDeg: 0,
    pointScaleFactor: 1,
    combinedFactor: null,
    knownFirstM: null,
    knownSecondM: null,
    knownHeightM: null,
    geoidHeightM: null,
    baseId: null,
    distanceM: null,
    azimuthDeg: null,
    heightDifferenceM: null,
    middleMs: null,
    poleLengthM: null,
    covariance: covarianceFromSigmas(1, 1, 1, 0),
    controlHorizontalM2: 0,
    controlVerticalM2: 0,
    ...change,
  };
}

/**
 * A day as the families see it, with independent errors of 1 m, so that a whitened vector is the vector itself: three values
 * a point in the order of the points, or as many as it has.
 */
export function causeContext(points: readonly CausePoint[], change: Partial<CauseDay> = {}): CauseContext {
  const day: CauseDay = {
    points,
    heightKind: 'orthometric',
    bases: new Map(),
    axisSigns: [1, 1],
    metresPerUnit: 1,
    correlationHorizontalS: 600,
    correlationVerticalS: 2200,
    geoidSigmaM: 0,
    phaseCentreOffsetsM: [],
    isTiltMeasured: false,
    largestLeanDeg: null,
    frameShifts: [],
    ellipsoid: WGS84,
    forward: null,
    inverse: null,
    otherZones: [],
    ...change,
  };
  const list = observationList(day);
  const covariance = new Float64Array(list.count * list.count);
  for (let i = 0; i < list.count; i += 1) covariance[i * list.count + i] = 1;
  const whitener = createWhitener(covariance, list.count);
  if (whitener === null) throw new Error('a unit matrix is positive definite');
  return {
    day,
    list,
    whitener,
    values: list.values,
    taken: [],
    noiseFactor: 1,
    hasHorizontal: list.axisOf.includes(0),
    hasVertical: list.axisOf.includes(2),
  };
}

/** The forms of one cause. */
export const formsOf = (models: readonly CauseModel[], cause: CauseModel['cause']): readonly CauseModel[] =>
  models.filter((model) => model.cause === cause);

/** The one form of this subject. */
export function formOf(models: readonly CauseModel[], subject: string): CauseModel {
  const found = models.filter((model) => model.subject === subject);
  if (found.length !== 1 || found[0] === undefined)
    throw new Error(`${String(found.length)} forms "${subject}" of: ${models.map((one) => one.subject).join(' | ')}`);
  return found[0];
}

/** What estimates of these sizes, with these sigmas, are said to be: by name; null where they are beyond the cause. */
export function readOf(
  model: CauseModel,
  sizes: readonly number[],
  sigmas: readonly number[] = sizes.map(() => 0.01),
): Readonly<Record<string, number>> | null {
  const read = model.read(sizes, sigmas);
  return read === null ? null : Object.fromEntries(read.map(({ name, value }) => [name, value]));
}
