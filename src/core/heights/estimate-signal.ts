import { largestOf } from '../numeric/extremes.js';
import { choleskyFactor } from '../numeric/linear-solve.js';
import { collocateHeights, distanceM } from './height-surface.js';
import type { HeightSurface, SurfaceModel } from './height-surface.js';
import type { SignalCovariance } from './signal-covariance.js';

/** The signal is looked for between these, one sigma, metres. */
const LEAST_SIGMA_M = 0.0002;
const MOST_SIGMA_M = 2;
/** The length is looked for from this part of the largest distance between benchmarks up to that distance. */
const LEAST_LENGTH_PART = 0.02;
/** The grid that the search begins from, in each direction, and where its steps end, as a ratio. */
const GRID = 6;
const LAST_STEP = 0.002;
const WAYS = [-1, 0, 1].flatMap((a) => [-1, 0, 1].map((b) => [a, b] as const)).filter(([a, b]) => a !== 0 || b !== 0);

/** A signal that the benchmarks themselves show. */
export interface EstimatedSignal {
  readonly signal: SignalCovariance;
  /** The likelihood rises up to the end of what was searched: the benchmarks do not tell it. */
  readonly isAtEnd: boolean;
  /** Where ln √C₀ and ln L were looked for; of what is stated, that twice. */
  readonly searched: { readonly sigma: SearchedRange; readonly length: SearchedRange };
}

/** Logarithms of the least and the most. */
export type SearchedRange = readonly [number, number];

/**
 * Signal by restricted maximum likelihood: what of C₀ and L is not stated is chosen so that the differences, freed of the trend,
 * are the likeliest. Given: the model without its signal; its kind; what is stated, metres, null to be estimated. Returned: the
 * signal; null where the trend is not determined. Reference: PATTERSON-THOMPSON-1971 (from memory).
 */
export function estimateSignal(
  model: Omit<SurfaceModel, 'signal'>,
  kind: SignalCovariance['kind'],
  stated: { readonly sigmaM: number | null; readonly lengthM: number | null },
): EstimatedSignal | null {
  const reachM = largestOf(
    model.benchmarks.flatMap((a) => model.benchmarks.map((b) => distanceM(a.place, b.place))),
    1,
  );
  const sigma = range(stated.sigmaM, LEAST_SIGMA_M, MOST_SIGMA_M);
  const length = range(stated.lengthM, LEAST_LENGTH_PART * reachM, reachM);
  const signalAt = (s: number, l: number): SignalCovariance => ({ kind, sigmaM: Math.exp(s), lengthM: Math.exp(l) });
  const likelihoodAt = (s: number, l: number): number => {
    const surface = collocateHeights({ ...model, signal: signalAt(s, l) });
    return surface === null ? -Infinity : restrictedLogLikelihood(surface);
  };
  let best = { s: sigma[0], l: length[0], value: -Infinity };
  const look = (s: number, l: number): boolean => {
    const [at, far] = [within(s, sigma), within(l, length)];
    const value = likelihoodAt(at, far);
    if (!(value > best.value)) return false;
    best = { s: at, l: far, value };
    return true;
  };
  for (const s of steps(sigma)) for (const l of steps(length)) look(s, l);
  if (best.value === -Infinity) return null;
  let step = Math.max(sigma[1] - sigma[0], length[1] - length[0]) / (2 * GRID);
  while (step > LAST_STEP) {
    const { s, l } = best;
    // Along the ridge on which both grow together too.
    const tried = WAYS.map(([east, north]) => look(s + east * step, l + north * step));
    const isBetter = tried.some(Boolean);
    if (!isBetter) step /= 2;
  }
  const isAt = (value: number, [least, most]: SearchedRange): boolean =>
    most > least && (value === least || value === most);
  return {
    signal: signalAt(best.s, best.l),
    isAtEnd: isAt(best.s, sigma) || isAt(best.l, length),
    searched: { sigma, length },
  };
}

/** Restricted likelihood of the signal of a surface, in logarithms: −½ (ln |C| + ln |AᵀC⁻¹A| + Ω), without its constant. */
export function restrictedLogLikelihood({ factor, cofactor, weightedSquares, benchmarks }: HeightSurface): number {
  const size = Math.round(Math.sqrt(cofactor.length));
  const unknowns = choleskyFactor(Float64Array.from(cofactor), size);
  // The cofactor is an inverse that was found; where rounding spoils it the signal is no candidate.
  if (unknowns === null) return -Infinity;
  // ln |AᵀC⁻¹A| is minus that of its inverse.
  return -0.5 * (logDeterminant(factor, benchmarks.length) - logDeterminant(unknowns, size) + weightedSquares);
}

/** ln |L Lᵀ|. */
function logDeterminant(factor: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) sum += 2 * Math.log(factor[i * (n + 1)] as number);
  return sum;
}

function range(stated: number | null, least: number, most: number): SearchedRange {
  return stated === null ? [Math.log(least), Math.log(most)] : [Math.log(stated), Math.log(stated)];
}

function within(value: number, [least, most]: SearchedRange): number {
  return Math.min(most, Math.max(least, value));
}

function steps([least, most]: SearchedRange): readonly number[] {
  if (least === most) return [least];
  return Array.from({ length: GRID + 1 }, (_, i) => least + ((most - least) * i) / GRID);
}
