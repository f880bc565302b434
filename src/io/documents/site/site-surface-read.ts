import type { SharedError } from '../../../core/adjustment/shared-error.js';
import { collocateHeights, withLikelySignals, withUntoldTilt } from '../../../core/heights/height-surface.js';
import type { Benchmark, HeightSurface } from '../../../core/heights/height-surface.js';
import { HEIGHT_TRENDS } from '../../../core/heights/height-trend.js';
import { SIGNAL_KINDS } from '../../../core/heights/signal-covariance.js';
import type { SignalKind } from '../../../core/heights/signal-covariance.js';
import type { WeightedSignal } from '../../../core/heights/signal-spread.js';
import type { JsonMembers } from '../json/json-members.js';

/** The coefficients written differ from those found anew by no more than rounding makes, metres at 100 km. */
const MOST_DIFFERENCE = 1e-5;
/** Weights of likely signals sum to 1 but for their rounding. */
const WEIGHT_ROUNDING = 1e-6;

/**
 * The surface of heights of a site file, found anew from its benchmarks. Refused members are noted by `members`: those that are
 * missing, and coefficients that the benchmarks do not give. Null where it cannot be found. The inverse is `surfaceMembers`.
 */
export function readSurface(members: JsonMembers): HeightSurface | null {
  const origin = members.object('origin');
  const signal = members.object('signal');
  const trend = HEIGHT_TRENDS.find((word) => word === members.text('trend'));
  const kind = SIGNAL_KINDS.find((word) => word === signal.text('covariance'));
  if (trend === undefined) members.refuse('trend', HEIGHT_TRENDS.join(', '));
  if (kind === undefined) signal.refuse('covariance', SIGNAL_KINDS.join(' or '));
  const shared = members
    .objects('shared')
    .map((error, at): SharedError => ({ id: String(at), varianceM2: error.number('sigma_m') ** 2 }));
  const benchmarks = members.objects('benchmarks').map((own): Benchmark => {
    const at = own.numberOrNull('shares');
    if (at !== null && shared[at] === undefined)
      own.refuse('shares', `a place in shared, 0 to ${String(shared.length - 1)}`);
    return {
      pointId: own.text('point_id'),
      place: { eastM: own.number('east_m'), northM: own.number('north_m') },
      differenceM: own.number('difference_m'),
      ownM2: own.number('sigma_m') ** 2,
      sharedWith: at === null ? null : String(at),
    };
  });
  const frame = {
    origin: { eastM: origin.number('east_m'), northM: origin.number('north_m') },
    latitudeDeg: members.number('origin_latitude_deg'),
    convergenceDeg: members.number('origin_convergence_deg'),
  };
  const sigmas = { sigmaM: signal.number('sigma_m'), lengthM: signal.number('length_m') };
  const factor = members.number('variance_factor_applied');
  if (trend === undefined || kind === undefined) return null;
  const surface = collocateHeights({ trend, frame, signal: { kind, ...sigmas }, benchmarks, shared }, factor);
  if (surface === null) {
    members.refuse('benchmarks', 'benchmarks that determine the trend, with sigmas above 0');
    return null;
  }
  const written = members.numbers('coefficients', surface.coefficients.length);
  const isAsWritten = surface.coefficients.every(
    (value, at) => Math.abs(value - (written[at] as number)) <= MOST_DIFFERENCE,
  );
  if (!isAsWritten) members.refuse('coefficients', `what the benchmarks give: ${surface.coefficients.join(', ')}`);
  const sigmaTrend = members.text('sigma_trend');
  const tilted = sigmaTrend === trend ? surface : withUntoldTilt(surface);
  if (sigmaTrend !== trend && tilted.untold?.trend !== sigmaTrend)
    members.refuse('sigma_trend', `${trend}, or plane of benchmarks that determine one`);
  return withLikelySignals(tilted, likelySignals(signal, kind));
}

/** Signals that are likely too, with their weights; none in a file whose signal was not estimated. */
function likelySignals(signal: JsonMembers, kind: SignalKind): readonly WeightedSignal[] {
  const likely = signal.objectsIfAny('likely').map((one): WeightedSignal => {
    const [sigmaM, lengthM, weight] = [one.number('sigma_m'), one.number('length_m'), one.number('weight')];
    if (!(sigmaM >= 0)) one.refuse('sigma_m', '0 or above');
    if (!(lengthM > 0)) one.refuse('length_m', 'above 0');
    if (!(weight > 0)) one.refuse('weight', 'above 0');
    return { signal: { kind, sigmaM, lengthM }, weight };
  });
  const total = likely.reduce((sum, { weight }) => sum + weight, 0);
  if (likely.length > 0 && !(Math.abs(total - 1) <= WEIGHT_ROUNDING))
    signal.refuse('likely', `weights that sum to 1, not to ${String(total)}`);
  return likely;
}
