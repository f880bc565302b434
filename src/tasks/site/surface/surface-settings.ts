import type { HeightTrend } from '../../../core/heights/height-trend.js';
import type { SignalKind } from '../../../core/heights/signal-covariance.js';

/** How a surface of heights is asked for; null: found, estimated or taken by default. */
export interface SurfaceSettings {
  readonly trend: HeightTrend | null;
  readonly kind: SignalKind;
  /** √C₀, metres. */
  readonly sigmaM: number | null;
  /** L, metres. */
  readonly lengthM: number | null;
}

/** What is taken where nothing is said. */
export const SURFACE_DEFAULTS: SurfaceSettings = { trend: null, kind: 'exponential', sigmaM: null, lengthM: null };

/**
 * The signal that stands in where it is neither stated nor estimated: what a geoid model leaves over tens of kilometres once a
 * trend is taken off. Common practice, no published source; what it decides is printed beside every result (x 0.5, x 2).
 */
export const DEFAULT_SIGNAL_SIGMA_M = 0.015;
export const DEFAULT_SIGNAL_LENGTH_M = 20_000;
/** With fewer benchmarks the likelihood says next to nothing of a signal; common practice, no published source. */
export const LEAST_TO_ESTIMATE = 15;
/** With more the covariance of all of them together is not handled. */
export const MOST_BENCHMARKS = 300;
