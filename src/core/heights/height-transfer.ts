import type { PlanePoint } from '../adjustment/convex-hull.js';
import type { SharedError } from '../adjustment/shared-error.js';
import { sharedVarianceM2, distanceM } from './height-surface.js';
import { signalCovarianceM2 } from './signal-covariance.js';
import type { SignalCovariance } from './signal-covariance.js';

/** Levelling is held against k √km; 12 mm is the third order of the trade (FGCC-1984, from memory). */
export const LEVELLING_CLASS_MM = 12;
/** A line shorter than this is held against what this has: k √km of a step says nothing. Common practice, no published source. */
const LEAST_CLASS_KM = 0.1;

/** An end of a transfer of height. */
export interface TransferEnd {
  readonly place: PlanePoint;
  /** As measured, over the geoid, metres. */
  readonly heightM: number;
  /** What the surface's trend adds there, metres. */
  readonly trendM: number;
  /** m², without what it shares. */
  readonly ownM2: number;
  readonly sharedWith: string | null;
}

/** A height difference by measurement over the geoid against a known one. */
export interface HeightTransfer {
  readonly distanceM: number;
  /** ΔH as measured and with the trend: (h_B − h_A) − (N_B − N_A) + f_B b − f_A b. */
  readonly transferredM: number;
  /** Transferred minus known. */
  readonly misclosureM: number;
  readonly sigmaM: number;
  readonly classLimitM: number;
}

/**
 * Transfers a height: H_B = H_A + Δh − ΔN, σ² = var(Δh) + 2 (C₀ − C(d)) + that of the known difference.
 *
 * Given: both ends; the known difference B minus A with its variance; the signal, and shared errors, which cancel where both ends
 * have the same; the class, mm for √km. Reference: docs/methods/height-surface.md.
 */
export function transferHeight(
  from: TransferEnd,
  to: TransferEnd,
  known: { readonly differenceM: number; readonly varianceM2: number },
  { signal, shared }: { readonly signal: SignalCovariance; readonly shared: readonly SharedError[] },
  classMm: number,
): HeightTransfer {
  const lengthM = distanceM(from.place, to.place);
  const transferredM = to.heightM + to.trendM - (from.heightM + from.trendM);
  const bases =
    from.sharedWith === to.sharedWith
      ? 0
      : sharedVarianceM2(shared, from.sharedWith) + sharedVarianceM2(shared, to.sharedWith);
  const geoid = 2 * (signalCovarianceM2(signal, 0) - signalCovarianceM2(signal, lengthM));
  return {
    distanceM: lengthM,
    transferredM,
    misclosureM: transferredM - known.differenceM,
    sigmaM: Math.sqrt(from.ownM2 + to.ownM2 + bases + geoid + known.varianceM2),
    classLimitM: (classMm / 1000) * Math.sqrt(Math.max(lengthM / 1000, LEAST_CLASS_KM)),
  };
}
