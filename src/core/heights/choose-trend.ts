import { fQuantile } from '../numeric/distributions/f-distribution.js';
import { SURFACE_TREND_LEVEL } from '../quality/decision-levels.js';
import { collocateHeights } from './height-surface.js';
import type { HeightSurface, SurfaceModel } from './height-surface.js';
import { HEIGHT_TRENDS, trendSize } from './height-trend.js';
import type { HeightTrend } from './height-trend.js';
import { leaveOneOut, leaveOneOutRmsM } from './leave-one-out.js';
import type { SignalCovariance } from './signal-covariance.js';

/** A trend is a candidate only where this many benchmarks more than it has coefficients are there. */
const LEAST_REDUNDANCY = 2;

/** A trend that was tried. */
export interface TrendCandidate {
  readonly trend: HeightTrend;
  readonly surface: HeightSurface;
  /** Root mean square of the benchmarks, each predicted from all others; null where one cannot be. */
  readonly leftOutRmsM: number | null;
  /** Whether its further coefficients take more than chance does, against the trend that was best before it; null: the first. */
  readonly fTest: {
    readonly against: HeightTrend;
    readonly statistic: number;
    readonly limit: number;
    readonly degrees: readonly [number, number];
  } | null;
}

/** The trends tried, and the one that is taken. */
export interface ChosenTrend {
  readonly candidates: readonly TrendCandidate[];
  readonly chosen: TrendCandidate;
}

/**
 * Chooses the trend of a surface: a richer one is taken only where it predicts benchmarks that were left out better and its
 * coefficients pass an F-test, with the covariance of the simpler. How well the fit itself comes out is never asked.
 *
 * Given: the model without trend and signal; the signal to go with each trend, null where it cannot be had. Returned: null where
 * not even an offset is determined.
 */
export function chooseTrend(
  model: Omit<SurfaceModel, 'trend' | 'signal'>,
  signalOf: (trend: HeightTrend) => SignalCovariance | null,
): ChosenTrend | null {
  const candidates: TrendCandidate[] = [];
  let best: TrendCandidate | null = null;
  for (const trend of HEIGHT_TRENDS) {
    const redundancy = model.benchmarks.length - trendSize(trend);
    if (best !== null && redundancy < LEAST_REDUNDANCY) break;
    const signal = signalOf(trend);
    const surface = signal === null ? null : collocateHeights({ ...model, trend, signal });
    if (surface === null) continue;
    const fTest: TrendCandidate['fTest'] = best === null ? null : testAgainst(best.surface, trend);
    const candidate: TrendCandidate = { trend, surface, leftOutRmsM: leaveOneOutRmsM(leaveOneOut(surface)), fTest };
    candidates.push(candidate);
    if (best === null || isBetter(candidate, best)) best = candidate;
  }
  return best === null ? null : { candidates, chosen: best };
}

function isBetter({ leftOutRmsM, fTest }: TrendCandidate, best: TrendCandidate): boolean {
  if (leftOutRmsM === null || best.leftOutRmsM === null || fTest === null) return false;
  return leftOutRmsM < best.leftOutRmsM && fTest.statistic > fTest.limit;
}

function testAgainst(simpler: HeightSurface, trend: HeightTrend): TrendCandidate['fTest'] {
  const richer = collocateHeights({ ...simpler, trend });
  if (richer === null || !(richer.weightedSquares > 0)) return null;
  const degrees = [trendSize(trend) - trendSize(simpler.trend), richer.redundancy] as const;
  const statistic =
    (simpler.weightedSquares - richer.weightedSquares) / degrees[0] / (richer.weightedSquares / degrees[1]);
  return { against: simpler.trend, statistic, limit: fQuantile(1 - SURFACE_TREND_LEVEL, ...degrees), degrees };
}
