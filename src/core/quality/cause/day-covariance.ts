import { correlationAfter } from '../../observation/repeats/occupation-estimate.js';
import type { CauseDay, CausePoint } from './cause-day.js';
import type { ObservationList } from './observation-list.js';
import { createWhitener } from './whitener.js';
import type { Whitener } from './whitener.js';

/** The base's variance beside a measured one, as a share of it, where the base states no sigma. An assumption. */
const ASSUMED_BASE_SHARE = 1;
/** Share of the rest taken as slowly varying. An assumption: noise of single epochs is small after averaging. */
const SLOW_SHARE = 0.7;
/** Distance over which errors of a geoid model stay alike, metres. An assumption. */
const GEOID_CORRELATION_M = 20_000;
/** Recording to a tenth of a millimetre, m²; keeps the matrix invertible. */
const RECORDING_VARIANCE_M2 = 1e-8;
/** What is kept of what values share, tried in turn. With nothing shared every day can be worked with. */
const SHARES: readonly number[] = [1, 0.9, 0.7, 0.4, 0];

/**
 * Covariance of all residuals of a day: what points share through their base, through time and through the control.
 *
 * Of each measured variance, the base's part is common to all points of that set-up, the mark's share of it to all set-ups on that mark; of the rest, 0.7 is taken as
 * slowly varying and correlated by exp(−Δt/τ), and 0.3 as independent. The known coordinates are independent between control points and common to occupations
 * of one. Geoid errors fade over 20 km.
 *
 * Notes:
 * 1. Whether an occupation without a time was alike with others is not known. Its slow part is counted twice: once as shared, with an occupation in the middle of
 *    those of its base, and once as its own. That is never less than either alone, so that not knowing makes no cause.
 * 2. Where the base states no sigma, sigmas of points may hold its part or not: then all that is measured is taken for their own, and as much again for the base.
 *
 * Given: day, its observations. Returned: symmetric matrix, row by row, m².
 * Reference: docs/methods/likely-cause.md, "Noise"; the shares are assumptions.
 */
export function dayCovariance(day: CauseDay, list: ObservationList): Float64Array {
  const middles = middlesOf(day);
  return filled(
    day,
    list,
    (p, q, axis) => (p === q ? ownVariance(day, p, axis) : sharedVariance(day, p, q, axis, middles)),
    1,
  );
}

/** A covariance of a day that can be worked with, and what turns residuals into independent ones. */
export interface UsableCovariance {
  readonly covariance: Float64Array;
  readonly whitener: Whitener;
}

/**
 * The covariance of a day, and its whitener. Shares that are stated apart may contradict each other: a correlation between east
 * and north, say, beside a base whose sigma is nearly all of the variance. Then what is shared is taken less, in steps, until
 * it can be: variances stay as stated. Returned: null where a variance is no number.
 */
export function usableCovariance(day: CauseDay, list: ObservationList): UsableCovariance | null {
  const stated = dayCovariance(day, list);
  for (const share of SHARES) {
    const covariance = share === 1 ? stated : sharedLess(stated, list.count, share);
    const whitener = createWhitener(covariance, list.count);
    if (whitener !== null) return { covariance, whitener };
  }
  return null;
}

function sharedLess(stated: Float64Array, count: number, share: number): Float64Array {
  return stated.map((value, at) => (at % (count + 1) === 0 ? value : share * value));
}

/**
 * The part of that covariance that grows with the noise of the measurements: neither the base's, the control's nor the
 * geoid's. Given: the day; the axes that grow. Returned: symmetric matrix, row by row, m².
 */
export function noiseCovariance(
  day: CauseDay,
  list: ObservationList,
  grows: { readonly plan: boolean; readonly height: boolean },
): Float64Array {
  const middles = middlesOf(day);
  return filled(
    day,
    list,
    (p, q, axis) =>
      !(axis === 2 ? grows.height : grows.plan)
        ? 0
        : p === q
          ? restVariance(day, p, axis) + untimedVariance(day, p, axis)
          : slowCovariance(day, p, q, axis, middles),
    grows.plan ? 1 : 0,
  );
}

function filled(
  day: CauseDay,
  list: ObservationList,
  of: (p: CausePoint, q: CausePoint, axis: number) => number,
  correlationShare: number,
): Float64Array {
  const n = list.count;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) {
    const a = list.pointOf[i] as number;
    const p = day.points[a] as CausePoint;
    for (let j = 0; j <= i; j += 1) {
      const b = list.pointOf[j] as number;
      const q = day.points[b] as CausePoint;
      const axis = list.axisOf[i] as number;
      const otherAxis = list.axisOf[j] as number;
      let value = 0;
      if (axis === otherAxis) value = of(p, a === b ? p : q, axis);
      else if (a === b && axis + otherAxis === 1) value = correlationShare * p.covariance.enM2;
      matrix[i * n + j] = value;
      matrix[j * n + i] = value;
    }
  }
  return matrix;
}

function measuredVariance(point: CausePoint, axis: number): number {
  const { eeM2, nnM2, uuM2 } = point.covariance;
  return axis === 0 ? eeM2 : axis === 1 ? nnM2 : uuM2;
}

/** Null where the base is not described or states no sigma. */
function statedBaseSigma(day: CauseDay, point: CausePoint, axis: number): number | null {
  const base = point.baseId === null ? undefined : day.bases.get(point.baseId);
  return (axis === 2 ? base?.sigmaVerticalM : base?.sigmaHorizontalM) ?? null;
}

function baseVariance(day: CauseDay, point: CausePoint, axis: number): number {
  const total = measuredVariance(point, axis);
  const sigma = statedBaseSigma(day, point, axis);
  return sigma === null ? ASSUMED_BASE_SHARE * total : Math.min(sigma * sigma, total);
}

/** What is measured, without the base's part of it. */
function restVariance(day: CauseDay, point: CausePoint, axis: number): number {
  const total = measuredVariance(point, axis);
  const sigma = statedBaseSigma(day, point, axis);
  return sigma === null ? total : total - Math.min(sigma * sigma, total);
}

/** What is slow of an occupation whose time is not known, counted as its own beside what it shares. */
function untimedVariance(day: CauseDay, point: CausePoint, axis: number): number {
  return point.middleMs === null ? SLOW_SHARE * restVariance(day, point, axis) : 0;
}

function ownVariance(day: CauseDay, point: CausePoint, axis: number): number {
  const control = axis === 2 ? point.controlVerticalM2 : point.controlHorizontalM2;
  const geoid = axis === 2 && day.heightKind === 'orthometric' ? day.geoidSigmaM ** 2 : 0;
  return (
    baseVariance(day, point, axis) +
    restVariance(day, point, axis) +
    untimedVariance(day, point, axis) +
    control +
    geoid +
    RECORDING_VARIANCE_M2
  );
}

function sharedVariance(day: CauseDay, p: CausePoint, q: CausePoint, axis: number, middles: Middles): number {
  const baseP = baseVariance(day, p, axis);
  const baseQ = baseVariance(day, q, axis);
  const isSameBase = p.baseId === q.baseId;
  const isSameControl = p.pointId === q.pointId;
  const control = isSameControl ? (axis === 2 ? p.controlVerticalM2 : p.controlHorizontalM2) : 0;
  const geoid =
    axis === 2 && day.heightKind === 'orthometric' && day.geoidSigmaM > 0
      ? day.geoidSigmaM ** 2 * Math.exp(-apartM(p, q) / GEOID_CORRELATION_M)
      : 0;
  return (
    (isSameBase ? Math.sqrt(baseP * baseQ) + slowCovariance(day, p, q, axis, middles) : markVariance(day, p, q, axis)) +
    control +
    geoid
  );
}

/** What two set-ups on one mark share. */
function markVariance(day: CauseDay, p: CausePoint, q: CausePoint, axis: number): number {
  const a = p.baseId === null ? undefined : day.bases.get(p.baseId);
  const b = q.baseId === null ? undefined : day.bases.get(q.baseId);
  if (b === undefined || a?.markKey !== b.markKey) return 0;
  const { horizontalM, verticalM } = a.markSigmas;
  const sigma = axis === 2 ? verticalM : horizontalM;
  return Math.min(sigma * sigma, measuredVariance(p, axis), measuredVariance(q, axis));
}

function slowCovariance(day: CauseDay, p: CausePoint, q: CausePoint, axis: number, middles: Middles): number {
  if (p.baseId !== q.baseId) return 0;
  const tauS = axis === 2 ? day.correlationVerticalS : day.correlationHorizontalS;
  const [pMs, qMs] = [p.middleMs ?? middles.get(p.baseId), q.middleMs ?? middles.get(q.baseId)];
  // No time is stated of any occupation of this base.
  const rho = pMs === undefined || qMs === undefined ? 1 : correlationAfter(Math.abs(pMs - qMs) / 1000, tauS);
  return SLOW_SHARE * rho * Math.sqrt(restVariance(day, p, axis) * restVariance(day, q, axis));
}

/** The middle of the times of each base's occupations, milliseconds; none for a base without a time. */
type Middles = ReadonlyMap<string | null, number>;

/** Were an occupation without a time taken as alike with all others, they would have to be alike among themselves. */
function middlesOf({ points }: CauseDay): Middles {
  const times = new Map<string | null, number[]>();
  for (const { baseId, middleMs } of points) {
    if (middleMs === null) continue;
    const list = times.get(baseId);
    if (list === undefined) times.set(baseId, [middleMs]);
    else list.push(middleMs);
  }
  return new Map([...times].map(([baseId, list]) => [baseId, list.reduce((sum, ms) => sum + ms / list.length, 0)]));
}

/** Distance between two control points, good to a percent; of points whose place is not known 0, and from others without end. */
function apartM(p: CausePoint, q: CausePoint): number {
  if (p.latitudeDeg === null || q.latitudeDeg === null || p.longitudeDeg === null || q.longitudeDeg === null)
    return p.latitudeDeg === q.latitudeDeg ? 0 : Infinity;
  const metresPerDegree = 111_200;
  const east = (p.longitudeDeg - q.longitudeDeg) * Math.cos((p.latitudeDeg * Math.PI) / 180);
  return metresPerDegree * Math.hypot(p.latitudeDeg - q.latitudeDeg, east);
}
