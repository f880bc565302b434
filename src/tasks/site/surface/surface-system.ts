import { spread } from '../../../core/adjustment/spread.js';
import { differenceCovariance, distanceM, dot, sharedVarianceM2 } from '../../../core/heights/height-surface.js';
import type { Benchmark, HeightSurface } from '../../../core/heights/height-surface.js';
import { trendRow } from '../../../core/heights/height-trend.js';
import { covariancesAt } from '../../../core/heights/surface-at.js';
import { choleskySolve } from '../../../core/numeric/linear-solve.js';
import { entryAt } from '../../../records/present.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { INPUT, NUMBER, given, inOne, together, withDecimals, worked } from '../../explain/lines/worked-lines.js';
import type { NumberForm } from '../../explain/lines/worked-lines.js';
import type { ControlPair } from '../control/pair-control.js';

export const DIFFERENCE: NumberForm = { unit: ' mm', perOne: 1000, decimals: 6 };
const DISTANCE: NumberForm = { unit: ' m', perOne: 1, decimals: 6 };
/** mm²; as many digits as the sums below lose. */
export const COVARIANCE: NumberForm = { unit: ' mm²', perOne: 1e6, decimals: 10 };
export const WEIGHT: NumberForm = withDecimals(NUMBER, 14);
export const VALUE: NumberForm = { unit: ' mm', perOne: 1000, decimals: 3 };
export const SQUARE: NumberForm = { unit: ' mm²', perOne: 1e6, decimals: 5 };
/** The whole system is written out for so many benchmarks; of more only what leads to the result. */
const MOST_WRITTEN = 12;

/** What predicts at a place: λ of the differences, μ of the conditions that λ carries the trend. */
export interface System {
  /** The error of a base that the prediction takes in. */
  readonly sharedWith: string | null;
  readonly c: Float64Array;
  readonly f: readonly number[];
  readonly rows: readonly (readonly number[])[];
  readonly weights: readonly number[];
  readonly multipliers: readonly number[];
}

export function systemAt(surface: HeightSurface, { source }: ControlPair, sharedWith: string | null): System {
  const { benchmarks, factor, weightedDesign, cofactor, trend, frame } = surface;
  const c = covariancesAt(surface, source, sharedWith);
  const f = trendRow(trend, frame, source);
  const g = f.map((entry, k) => entry - dot(entryAt(weightedDesign, k), c));
  const unit = (k: number): number[] => f.map((_, at) => (at === k ? 1 : 0));
  // C λ + A μ = c and Aᵀ λ = f give μ = −(AᵀC⁻¹A)⁻¹ g.
  const multipliers = f.map((_, k) => -spread(unit(k), cofactor, g));
  const solved = choleskySolve(factor, benchmarks.length, c);
  const weights = benchmarks.map(
    (_, i) =>
      entryAt(solved, i) -
      weightedDesign.reduce((sum, column, k) => sum + entryAt(column, i) * entryAt(multipliers, k), 0),
  );
  return { sharedWith, c, f, rows: benchmarks.map(({ place }) => trendRow(trend, frame, place)), weights, multipliers };
}

export const name = (letter: string, at: number): string => `${letter}_${String(at + 1)}`;

export function covarianceStep(surface: HeightSurface, { c, f, sharedWith }: System, pair: ControlPair): WorkingStep {
  const { signal, benchmarks, shared } = surface;
  const isPlain = signal.kind === 'exponential';
  const common = sharedVarianceM2(shared, sharedWith);
  const isShared = (own: Benchmark): boolean => common > 0 && own.sharedWith === sharedWith;
  return {
    title: 'In height: covariances with the benchmarks',
    formula: `c = C₀ ${isPlain ? 'exp(−d/L)' : '(1 + d/L) exp(−d/L)'}, and the variance of a base that both share`,
    substitution: [
      together(given('C_0', signal.sigmaM ** 2, COVARIANCE), given('L', signal.lengthM, withDecimals(INPUT, 6))),
      ...(common > 0 ? [`${given('B', common, COVARIANCE)} (the base)`] : []),
      ...f.map(
        (entry, k) => given(`f_${String(k + 1)}`, entry, WEIGHT) + (k === 0 ? ` (trend: ${surface.trend})` : ''),
      ),
      ...benchmarks.map((own, i) =>
        together(
          `${own.pointId}: ${given(name('e', i), own.differenceM, DIFFERENCE)}`,
          given(name('d', i), distanceM(own.place, pair.source), DISTANCE),
          worked(
            name('c', i),
            `C_0·${isPlain ? '' : `(1 + ${name('d', i)}/L)·`}exp(−${name('d', i)}/L)${isShared(own) ? ' + B' : ''}`,
            entryAt(c, i),
            withDecimals(COVARIANCE, 6),
          ),
        ),
      ),
    ],
    result: [],
    source: 'MORITZ-1980; docs/methods/height-surface.md',
  };
}

export function weightStep(surface: HeightSurface, system: System): WorkingStep {
  const { c, f, rows, weights, multipliers } = system;
  const { benchmarks } = surface;
  const n = benchmarks.length;
  const matrix = differenceCovariance(surface);
  const isWritten = n <= MOST_WRITTEN;
  const each = (of: readonly unknown[], term: (at: string) => string): string =>
    of.map((_, at) => term(String(at + 1))).join(' + ');
  return {
    title: 'In height: weights of the benchmarks',
    formula: 'C λ + A μ = c and Aᵀ λ = f: the least variance of all sums Σ λ e that carry the trend',
    substitution: [
      ...weights.map((weight, i) => given(name('λ', i), weight, WEIGHT)),
      ...multipliers.map((value, k) => given(name('μ', k), value, COVARIANCE)),
      ...rows.map((row, i) =>
        inOne(row.map((entry, k) => given(`a_${String(i + 1)}_${String(k + 1)}`, entry, WEIGHT))),
      ),
      ...f.map((entry, k) =>
        worked(
          name('f', k),
          each(rows, (i) => `λ_${i}·a_${i}_${String(k + 1)}`),
          entry,
          withDecimals(NUMBER, 6),
        ),
      ),
      ...(isWritten
        ? benchmarks.flatMap((_, i) => {
            const row = String(i + 1);
            return [
              inOne(
                benchmarks.map((__, j) => given(`C_${row}_${String(j + 1)}`, entryAt(matrix, i * n + j), COVARIANCE)),
              ),
              worked(
                `c_${row}`,
                `${each(benchmarks, (j) => `λ_${j}·C_${row}_${j}`)} + ${each(multipliers, (k) => `μ_${k}·a_${row}_${k}`)}`,
                entryAt(c, i),
                SQUARE,
              ),
            ];
          })
        : [`of ${String(n)} benchmarks the rows of C are not written out: the site file has places and sigmas`]),
    ],
    result: [],
    source: 'AITKEN-1935; ISAAKS-SRIVASTAVA-1989, chapter 12; docs/methods/height-surface.md',
  };
}
