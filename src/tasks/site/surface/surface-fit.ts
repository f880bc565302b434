import type { Adjustment } from '../../../core/adjustment/adjust-observations.js';
import { controlSpread } from '../../../core/adjustment/control-spread.js';
import type { SharedError } from '../../../core/adjustment/shared-error.js';
import { chooseTrend } from '../../../core/heights/choose-trend.js';
import type { ChosenTrend, TrendCandidate } from '../../../core/heights/choose-trend.js';
import { estimateSignal } from '../../../core/heights/estimate-signal.js';
import type { EstimatedSignal } from '../../../core/heights/estimate-signal.js';
import { signalSpread } from '../../../core/heights/signal-spread.js';
import { collocateHeights, withLikelySignals, withUntoldTilt } from '../../../core/heights/height-surface.js';
import type { Benchmark, HeightSurface, SurfaceModel } from '../../../core/heights/height-surface.js';
import { trendSize } from '../../../core/heights/height-trend.js';
import type { HeightTrend } from '../../../core/heights/height-trend.js';
import { leaveOneOut, leaveOneOutRmsM } from '../../../core/heights/leave-one-out.js';
import { fittedOfSurface } from '../../../core/heights/surface-residuals.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { present } from '../../../records/present.js';
import { poorSpread, tooFew, unchecked } from '../control/control-problems.js';
import type { ControlPair } from '../control/pair-control.js';
import {
  DEFAULT_SIGNAL_LENGTH_M,
  DEFAULT_SIGNAL_SIGMA_M,
  LEAST_TO_ESTIMATE,
  MOST_BENCHMARKS,
} from './surface-settings.js';
import type { SurfaceSettings } from './surface-settings.js';

/** Where a figure of the signal comes from. */
export type SignalOrigin = 'stated' | 'estimated' | 'default';

/** A surface of heights before it is judged. */
export interface SurfaceFit {
  readonly kind: 'surface';
  readonly surface: HeightSurface;
  readonly candidates: readonly TrendCandidate[];
  /** Whether the trend was stated, and not chosen by leaving out. */
  readonly trendIsStated: boolean;
  readonly signalOrigin: { readonly sigma: SignalOrigin; readonly length: SignalOrigin };
  readonly adjustment: Pick<Adjustment, 'redundancy' | 'weightedSquares' | 'residuals'>;
}

/** What a surface is fitted to. */
export interface SurfaceInput {
  readonly pairs: readonly ControlPair[];
  readonly shared: readonly SharedError[];
  readonly settings: SurfaceSettings;
  readonly allowPoorSpread: boolean;
}

/**
 * Fits trend and signal to the heights of control by least-squares collocation.
 *
 * Problems: site-too-few-control, site-poor-spread for a trend that is stated, site-too-many-benchmarks.
 * Warnings: site-unchecked.
 */
export function fitSurface({ pairs, shared, settings, allowPoorSpread }: SurfaceInput): Outcome<SurfaceFit> {
  const benchmarks = pairs.map(benchmarkOf);
  const refused = refusalOf(benchmarks, settings.trend, allowPoorSpread);
  if (refused !== null && refused.severity === 'error') return failure(refused);
  const warnings: Problem[] = refused === null ? [] : [refused];
  const model = { benchmarks, shared, frame: middleOf(pairs) };
  const spread = controlSpread(benchmarks.map(({ place }) => place));
  const isSpread = allowPoorSpread || poorSpread(spread, benchmarks.length, 'the benchmarks') === null;
  const signals = signalSource(model, settings);
  const chosen =
    settings.trend === null
      ? chooseTrend(model, (trend) => (trend === 'offset' || isSpread ? signals.of(trend) : null))
      : statedTrend(model, settings.trend, signals.of);
  if (chosen === null)
    return failure(
      tooFew(
        'the benchmarks do not determine the trend',
        'observe benchmarks around the whole site, or give --trend offset',
      ),
    );
  const { surface: plain, trend } = chosen.chosen;
  const tilted = settings.trend === null && isSpread ? withUntoldTilt(plain) : plain;
  const estimated = signals.estimated(trend);
  const surface = withWhatIsLikely(tilted, signals);
  if (surface.redundancy === 0)
    warnings.push(unchecked(`${benchmarks.length} heights fit any trend of ${trend}: nothing checks the heights`));
  if (estimated?.isAtEnd === true)
    warnings.push(
      unchecked(
        'the benchmarks do not tell how far differences of height hang together: the likelihood grows up to the end of what was searched; state one sigma and a length that are known from elsewhere (--signal-sigma, --signal-length), and see the sensitivity',
      ),
    );
  return success(
    {
      kind: 'surface',
      surface,
      candidates: chosen.candidates,
      trendIsStated: settings.trend !== null,
      signalOrigin: signals.origin,
      adjustment: {
        redundancy: surface.redundancy,
        weightedSquares: surface.weightedSquares,
        residuals: fittedOfSurface(surface),
      },
    },
    warnings,
  );
}

function benchmarkOf(pair: ControlPair): Benchmark {
  return {
    pointId: pair.control.pointId,
    place: pair.source,
    differenceM: present(pair.controlHeightM, 'controlHeightM') - present(pair.measuredHeightM, 'measuredHeightM'),
    ownM2: pair.heightVarianceM2,
    sharedWith: pair.shared?.id ?? null,
  };
}

/** The middle of the benchmarks, where a trend is written about. */
function middleOf(pairs: readonly ControlPair[]): SurfaceModel['frame'] {
  const mean = (get: (pair: ControlPair) => number): number =>
    pairs.reduce((sum, pair) => sum + get(pair), 0) / pairs.length;
  return {
    origin: { eastM: mean(({ source }) => source.eastM), northM: mean(({ source }) => source.northM) },
    latitudeDeg: mean(({ measured }) => measured.station.latitudeDeg),
    convergenceDeg: mean(({ convergenceDeg }) => convergenceDeg),
  };
}

function refusalOf(
  benchmarks: readonly Benchmark[],
  trend: HeightTrend | null,
  allowPoorSpread: boolean,
): Problem | null {
  const n = benchmarks.length;
  const needed = trendSize(trend ?? 'offset');
  const counted = `${String(n)} control ${n === 1 ? 'point' : 'points'} marked fit with a height`;
  if (n < needed)
    return tooFew(
      counted,
      trend === null || trend === 'offset'
        ? 'a surface needs 1 benchmark; give --vertical none'
        : `a trend of ${trend} needs ${String(needed)} and is checked only from ${String(needed + 1)}; leave out --trend, or give --trend offset`,
    );
  if (n > MOST_BENCHMARKS)
    return errorProblem('site-too-many-benchmarks', {
      message: `${counted}: a surface takes at most ${String(MOST_BENCHMARKS)}`,
      received: String(n),
      expected: `at most ${String(MOST_BENCHMARKS)}`,
      hint: 'fit parts of the area, or --vertical plane, which takes any number',
    });
  if (trend === null || trend === 'offset') return null;
  const spread = poorSpread(controlSpread(benchmarks.map(({ place }) => place)), n, 'the benchmarks');
  return spread !== null && allowPoorSpread ? { ...spread, severity: 'warning' } : spread;
}

/** With the signals that the benchmarks leave likely, freed of a tilt where one may be there untold. */
function withWhatIsLikely(surface: HeightSurface, signals: SignalSource): HeightSurface {
  const { trend } = surface.untold ?? surface;
  const estimated = signals.estimated(trend);
  return estimated === null ? surface : withLikelySignals(surface, signalSpread({ ...surface, trend }, estimated));
}

interface SignalSource {
  readonly of: (trend: HeightTrend) => HeightSurface['signal'] | null;
  readonly origin: SurfaceFit['signalOrigin'];
  /** How it was estimated; null: it was not. */
  readonly estimated: (trend: HeightTrend) => EstimatedSignal | null;
}

/** The signal for each trend: stated, by likelihood where there are benchmarks enough, else the default. */
function signalSource(
  model: Omit<SurfaceModel, 'trend' | 'signal'>,
  { kind, sigmaM, lengthM }: SurfaceSettings,
): SignalSource {
  const isEnough = model.benchmarks.length >= LEAST_TO_ESTIMATE;
  const found = new Map<HeightTrend, EstimatedSignal | null>();
  const originOf = (stated: number | null): SignalOrigin =>
    stated !== null ? 'stated' : isEnough ? 'estimated' : 'default';
  const isStated = sigmaM !== null && lengthM !== null;
  const plain = { kind, sigmaM: sigmaM ?? DEFAULT_SIGNAL_SIGMA_M, lengthM: lengthM ?? DEFAULT_SIGNAL_LENGTH_M };
  return {
    of(trend) {
      if (isStated || !isEnough) return plain;
      const estimated = estimateSignal({ ...model, trend }, kind, { sigmaM, lengthM });
      found.set(trend, estimated);
      return estimated?.signal ?? null;
    },
    origin: { sigma: originOf(sigmaM), length: originOf(lengthM) },
    estimated: (trend) => found.get(trend) ?? null,
  };
}

function statedTrend(
  model: Omit<SurfaceModel, 'trend' | 'signal'>,
  trend: HeightTrend,
  signalOf: SignalSource['of'],
): ChosenTrend | null {
  const signal = signalOf(trend);
  const surface = signal === null ? null : collocateHeights({ ...model, trend, signal });
  if (surface === null) return null;
  const chosen = { trend, surface, leftOutRmsM: leaveOneOutRmsM(leaveOneOut(surface)), fTest: null };
  return { candidates: [chosen], chosen };
}
