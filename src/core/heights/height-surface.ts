import type { PlanePoint } from '../adjustment/convex-hull.js';
import type { SharedError } from '../adjustment/shared-error.js';
import { choleskyFactor, choleskyInverse, choleskySolve } from '../numeric/linear-solve.js';
import { trendRow, trendSize } from './height-trend.js';
import type { HeightTrend, TrendFrame } from './height-trend.js';
import { signalCovarianceM2 } from './signal-covariance.js';
import type { SignalCovariance } from './signal-covariance.js';

/** A height known in both systems. */
export interface Benchmark {
  readonly pointId: string;
  readonly place: PlanePoint;
  /** Site height minus measured height, metres. */
  readonly differenceM: number;
  /** Variance of that difference that is its own, m², above 0. */
  readonly ownM2: number;
  /** The error that it shares with others, by the id of that; null: none. */
  readonly sharedWith: string | null;
}

/** What a surface of heights is made of. */
export interface SurfaceModel {
  readonly trend: HeightTrend;
  readonly frame: TrendFrame;
  readonly signal: SignalCovariance;
  readonly benchmarks: readonly Benchmark[];
  readonly shared: readonly SharedError[];
}

/** Trend and signal by least-squares collocation. */
export interface HeightSurface extends SurfaceModel {
  /** b, metres, metres a km, metres a km². */
  readonly coefficients: readonly number[];
  /** (AᵀC⁻¹A)⁻¹, row by row. */
  readonly cofactor: readonly number[];
  /** L of C = L Lᵀ, the covariance of the differences: signal, own and shared errors. */
  readonly factor: Float64Array;
  /** C⁻¹A, by column. */
  readonly weightedDesign: readonly Float64Array[];
  /** C⁻¹(e − Ab). */
  readonly weighted: Float64Array;
  /** (e − Ab)ᵀC⁻¹(e − Ab): about the redundancy where C is right. */
  readonly weightedSquares: number;
  readonly redundancy: number;
  /** Variances are those of C times this: 1, or what the residuals say of C. */
  readonly varianceFactor: number;
  /**
   * A plane, where the benchmarks chose an offset over it: a tilt that they do not show may be there all the same, and what it would
   * change is in the sigma. Null: the trend is inclined, was stated, or no plane is determined.
   */
  readonly untold: HeightSurface | null;
  /**
   * Where the benchmarks themselves told the signal: the surfaces of all signals that they leave likely, with weights that sum to 1. What
   * they differ by is in the sigma. Empty: the signal is taken at its word.
   */
  readonly likely: readonly WeightedSurface[];
}

/** One of several surfaces that may be true. */
export interface WeightedSurface {
  readonly weight: number;
  readonly surface: HeightSurface;
}

/** Distance of two places of the plane, metres. */
export function distanceM(a: PlanePoint, b: PlanePoint): number {
  return Math.hypot(a.eastM - b.eastM, a.northM - b.northM);
}

/** Variance of an error that is shared with others, m²; 0 where none is. */
export function sharedVarianceM2(shared: readonly SharedError[], id: string | null): number {
  // What is shared with nothing known adds nothing.
  return id === null ? 0 : (shared.find((error) => error.id === id)?.varianceM2 ?? 0);
}

/** Variance of a difference before anything is fitted, m²: of signal, own and shared errors. */
export function differenceVarianceM2(
  { signal, shared }: Pick<SurfaceModel, 'signal' | 'shared'>,
  { ownM2, sharedWith }: Benchmark,
): number {
  return signalCovarianceM2(signal, 0) + ownM2 + sharedVarianceM2(shared, sharedWith);
}

/** C of the differences, n × n, row by row: the error of a base that two share is off the diagonal too. */
export function differenceCovariance({
  signal,
  benchmarks,
  shared,
}: Omit<SurfaceModel, 'trend' | 'frame'>): Float64Array {
  const n = benchmarks.length;
  const matrix = new Float64Array(n * n);
  for (const [i, a] of benchmarks.entries())
    for (const [j, b] of benchmarks.entries()) {
      if (j > i) break;
      const common = a.sharedWith === b.sharedWith ? sharedVarianceM2(shared, a.sharedWith) : 0;
      const value = signalCovarianceM2(signal, distanceM(a.place, b.place)) + common + (i === j ? a.ownM2 : 0);
      matrix[i * n + j] = value;
      matrix[j * n + i] = value;
    }
  return matrix;
}

/**
 * Least-squares collocation: b = (AᵀC⁻¹A)⁻¹AᵀC⁻¹e.
 *
 * Given: the model; what its variances are multiplied by. Returned: the surface; null where the benchmarks do not determine the
 * trend. Reference: MORITZ-1980 (from memory), docs/methods/height-surface.md; the same as universal kriging.
 */
export function collocateHeights(model: SurfaceModel, varianceFactor = 1): HeightSurface | null {
  const { benchmarks, trend, frame } = model;
  const n = benchmarks.length;
  const size = trendSize(trend);
  if (n < size) return null;
  const factor = choleskyFactor(differenceCovariance(model), n);
  if (factor === null) return null;
  const rows = benchmarks.map(({ place }) => trendRow(trend, frame, place));
  const columns = Array.from({ length: size }, (_, k) => Float64Array.from(rows, (row) => row[k] as number));
  const weightedDesign = columns.map((column) => choleskySolve(factor, n, column));
  const normal = new Float64Array(size * size);
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) normal[i * size + j] = dot(columns[i]!, weightedDesign[j]!);
  const normalFactor = choleskyFactor(normal, size);
  if (normalFactor === null) return null;
  const observed = Float64Array.from(benchmarks, ({ differenceM: e }) => e);
  const right = weightedDesign.map((column) => dot(column, observed));
  const coefficients = Array.from(choleskySolve(normalFactor, size, right));
  const left = observed.map((e, i) => e - dot(rows[i]!, coefficients));
  const weighted = choleskySolve(factor, n, left);
  return {
    ...model,
    coefficients,
    cofactor: Array.from(choleskyInverse(normalFactor, size)),
    factor,
    weightedDesign,
    weighted,
    weightedSquares: dot(left, weighted),
    redundancy: n - size,
    varianceFactor,
    untold: null,
    likely: [],
  };
}

/** The surface, its variances multiplied by what the residuals say of them. */
export function timesVarianceFactor(surface: HeightSurface, varianceFactor: number): HeightSurface {
  const { untold, likely } = surface;
  return {
    ...surface,
    varianceFactor,
    untold: untold === null ? null : { ...untold, varianceFactor },
    likely: likely.map(({ weight, surface: one }) => ({ weight, surface: timesVarianceFactor(one, varianceFactor) })),
  };
}

/**
 * The surface with those of all signals that are likely beside it. Given: the surface, with its untold tilt where it has one; the signals
 * with their weights. One signal alone adds nothing.
 */
export function withLikelySignals(
  surface: HeightSurface,
  signals: readonly { readonly signal: SignalCovariance; readonly weight: number }[],
): HeightSurface {
  const likely = signals.flatMap(({ signal, weight }): WeightedSurface[] => {
    const one = collocateHeights({ ...surface, signal }, surface.varianceFactor);
    if (one === null) return [];
    return [{ weight, surface: surface.untold === null ? one : withUntoldTilt(one) }];
  });
  // A signal that cannot be worked with takes its weight along: what is left sums to 1 again, else the sigma would shrink.
  const total = likely.reduce((sum, { weight }) => sum + weight, 0);
  return {
    ...surface,
    likely: likely.length > 1 ? likely.map((one) => ({ ...one, weight: one.weight / total })) : [],
  };
}

/** An offset chosen over a plane, with the plane beside it. Given: the surface and what its variances are multiplied by. */
export function withUntoldTilt(surface: HeightSurface): HeightSurface {
  const { trend, varianceFactor } = surface;
  return trend === 'offset'
    ? { ...surface, untold: collocateHeights({ ...surface, trend: 'plane' }, varianceFactor) }
    : surface;
}

/** Σ aᵢbᵢ. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += (a[i] as number) * (b[i] as number);
  return sum;
}
