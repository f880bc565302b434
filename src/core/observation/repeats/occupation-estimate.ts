import type { LocalCovariance, LocalVector } from '../../../records/points/point.js';
import { present } from '../../../records/present.js';

/** One occupation's mean with the parts of its covariance, ready to be compared or combined. */
export interface OccupationEstimate {
  /** Position about an origin that all occupations of the point share, metres. */
  readonly position: LocalVector;
  /** Noise and pole, m²: belong to this occupation alone. */
  readonly independent: LocalCovariance;
  /** Slow error that does not grow with the baseline, m², after averaging; the age of the corrections included. */
  readonly correlated: LocalCovariance;
  /** Slow error that grows with the baseline, m², after averaging; shared only from one mark. */
  readonly baseline: LocalCovariance;
  /** Error of the mark the base stood over, m²: common to occupations of one `markKey`, or without one. */
  readonly mark: LocalCovariance;
  /**
   * Error of setting the base up, of its own coordinate where that is no mark's, and the bend of the vector by a wrong one, m²:
   * common to those of one `setupKey`.
   */
  readonly setup: LocalCovariance;
  readonly markKey: string | null;
  /** Errors of other marks that the coordinate of its own was measured from, m²; absent: none. */
  readonly inherited?: readonly InheritedError[];
  /** Occupations of one set-up are of one mark. */
  readonly setupKey: string | null;
  readonly baselineM: number | null;
  /** First and last epoch used, milliseconds since 1970-01-01T00:00:00Z; null: not stated. */
  readonly startMs: number | null;
  readonly endMs: number | null;
}

/** The error of a mark, within that of another whose coordinate was measured from it. */
export interface InheritedError {
  readonly markKey: string;
  readonly covariance: LocalCovariance;
}

/** Every error that an occupation has in common with others, by a name that tells it: marks first, then the set-up. */
export function sharedErrors({
  mark,
  markKey,
  inherited,
  setup,
  setupKey,
}: OccupationEstimate): readonly (readonly [string, LocalCovariance])[] {
  const errors: (readonly [string, LocalCovariance])[] = [
    [markName(markKey), mark],
    [setupName(markKey, setupKey), setup],
  ];
  // Absent: no mark is inherited.
  if (inherited !== undefined) for (const own of inherited) errors.push([markName(own.markKey), own.covariance]);
  return errors;
}

function markName(key: string | null): string {
  return key === null ? 'mark' : `mark ${key}`;
}

/** With the length of the first name, so that no two pairs are called the same. */
function setupName(markKey: string | null, setupKey: string | null): string {
  const ofMark = markKey === null ? '' : `${String(markKey.length)} ${markKey}`;
  return `set-up ${ofMark} ${setupKey === null ? '' : `of ${setupKey}`}`;
}

/** Correlation times of the slow errors, seconds. */
export interface CorrelationTimes {
  readonly correlationHorizontalS: number;
  readonly correlationVerticalS: number;
}

/** Positions are recorded to about a tenth of a millimetre; keeps every covariance invertible, m². */
export const RECORDING_VARIANCE_M2 = 1e-8;

/** Whether an occupation states when it began and ended. */
export function isTimed({ startMs, endMs }: OccupationEstimate): boolean {
  return startMs !== null && endMs !== null;
}

/** Middle of an occupation that states its times, milliseconds since 1970-01-01T00:00:00Z. */
export function middleMs({ startMs, endMs }: OccupationEstimate): number {
  return (present(startMs, 'startMs') + present(endMs, 'endMs')) / 2;
}

/** Seconds between the middles of two occupations; null where a time is not stated. */
export function middleSeparationS(a: OccupationEstimate, b: OccupationEstimate): number | null {
  if (a.startMs === null || a.endMs === null || b.startMs === null || b.endMs === null) return null;
  return Math.abs(a.startMs + a.endMs - b.startMs - b.endMs) / 2000;
}

/** exp(−D/τ); 0 where τ is 0. */
export function correlationAfter(separationS: number, tauS: number): number {
  return tauS > 0 ? Math.exp(-separationS / tauS) : 0;
}

/** Cross covariance of one axis of two occupations: the slow errors at correlation ρ, from one mark or two. */
export function slowCross(
  a: OccupationEstimate,
  b: OccupationEstimate,
  key: 'eeM2' | 'nnM2' | 'uuM2',
  correlation: number,
): number {
  const root = (x: number, y: number): number => Math.sqrt(Math.max(0, x) * Math.max(0, y));
  const growing = a.markKey === b.markKey ? root(a.baseline[key], b.baseline[key]) : 0;
  return correlation * (root(a.correlated[key], b.correlated[key]) + growing);
}
