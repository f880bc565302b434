/** How the covariance of a signal falls with distance. */
export type SignalKind = 'exponential' | 'second-order-markov';

export const SIGNAL_KINDS: readonly SignalKind[] = ['exponential', 'second-order-markov'];

/** The covariance of what a geoid model and a trend leave of heights: the same everywhere and in every direction. */
export interface SignalCovariance {
  readonly kind: SignalKind;
  /** √C₀, one sigma of the signal, metres, 0 or above. */
  readonly sigmaM: number;
  /** L, metres, above 0. */
  readonly lengthM: number;
}

/**
 * Covariance of a signal at two places.
 *
 * Given: the model; their distance d, metres. Returned: m²: C₀ exp(−d/L), or C₀ (1 + d/L) exp(−d/L) of the Gauss–Markov
 * process of second order, which is smooth at 0. Reference: MORITZ-1980 (from memory); docs/methods/height-surface.md.
 */
export function signalCovarianceM2({ kind, sigmaM, lengthM }: SignalCovariance, distanceM: number): number {
  const ratio = distanceM / lengthM;
  const fall = Math.exp(-ratio);
  return sigmaM * sigmaM * (kind === 'exponential' ? fall : (1 + ratio) * fall);
}
