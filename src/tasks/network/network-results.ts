import { adjustNetwork } from '../../core/network/adjust-network.js';
import type { AdjustedNetwork, NetworkChoice } from '../../core/network/adjust-network.js';
import type { Network } from '../../core/network/network.js';
import { success } from '../../records/outcome.js';
import { present } from '../../records/present.js';
import type { Outcome } from '../../records/outcome.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type {
  DeterminedBase,
  NetworkComponent,
  NetworkControlResult,
  NetworkDistortion,
  NetworkObservationResult,
  NetworkParameter,
  NetworkPoint,
} from '../../records/reports/network-report.js';
import type { Answer, RunAnswer } from '../../records/runs/run-answer.js';
import { determinedBases } from './input/determined-bases.js';
import { networkDistortions } from './judge-distortions.js';
import {
  networkAnswer,
  networkComponents,
  networkControl,
  networkObservations,
  networkParameters,
} from './judge-network.js';
import type { NetworkSystems } from './input/network-input.js';
import { networkPoints, networkRelations } from './network-report.js';
import type { NetworkRelations } from './network-report.js';
import type { NetworkBase } from './input/session-bases.js';

/** Everything that a run says of its network. */
export interface NetworkResults {
  readonly adjusted: AdjustedNetwork;
  readonly systems: NetworkSystems;
  readonly relations: NetworkRelations;
  readonly points: readonly NetworkPoint[];
  readonly observations: readonly NetworkObservationResult[];
  readonly control: readonly NetworkControlResult[];
  readonly parameters: readonly NetworkParameter[];
  /** Everything that was looked for beside shifts; empty where nothing was. */
  readonly distortions: readonly NetworkDistortion[];
  /** Worked out where the whole, or the observations alone, do not lie where they should. */
  readonly components: readonly NetworkComponent[];
  /** Bases whose mark no control holds: what a session can take. */
  readonly bases: readonly DeterminedBase[];
  readonly answer: Answer;
  readonly reasons: readonly ProblemCode[];
}

/**
 * Adjusts a network and judges it.
 *
 * Given: the network with the systems of its places; the bases of its sessions; how it is adjusted; whether rows were left out.
 * Problems: those of `adjustNetwork`.
 *
 * @example
 * // One place measured twice from a known one, with variances of 1 and 4 mm²: by hand, the weighted mean is 1 mm and 4 mm away.
 * const cov = (mm2) => ({ xx: mm2 * 1e-6, xy: 0, xz: 0, yy: mm2 * 1e-6, yz: 0, zz: mm2 * 1e-6 });
 * const ends = { fromId: 'A', toId: 'B', shared: [] };
 * const vector = (xM, mm2) => ({ ...ends, difference: { xM, yM: 0, zM: 0 }, covariance: cov(mm2) });
 * const known = { position: { xM: 6378137, yM: 0, zM: 0 }, orthometricHeightM: null, heightVarianceM2: null };
 * const none = { levelled: [], distances: [], shared: [], geoidHeightM: new Map(), geoidError: null };
 * const control = [{ id: 'A', ...known, held: 'fixed', covariance: null }];
 * const network = { ellipsoid: GRS80, vectors: [vector(100, 1), vector(100.005, 4)], control, ...none };
 * const choice = { datum: 'control', excludesOutliers: false, estimatesVariance: false };
 * const systems = { ellipsoid: GRS80, grid: null, geoid: null, geoidSigmaM: null };
 * const results = networkResults(network, systems, [], choice, false).value;
 * // Review: what holds the network is a single point, which nothing checks.
 * [results.answer, results.adjusted.freeTest.weightedSquares]; // ['review', 5.000]
 */
export function networkResults(
  network: Network,
  systems: NetworkSystems,
  sessionBases: readonly NetworkBase[],
  choice: NetworkChoice,
  hasRejected: boolean,
): Outcome<NetworkResults> {
  const outcome = adjustNetwork(network, choice);
  if (!outcome.ok) return outcome;
  const adjusted = outcome.value;
  const inner = new Set(network.shared.flatMap(({ name, isInner }) => (isInner === true ? [name] : [])));
  const observations = networkObservations(adjusted);
  const relations = networkRelations(adjusted);
  const control = networkControl(adjusted);
  const points = networkPoints(adjusted, systems, relations, suspectsOf(observations, control));
  const { answer, reasons } = networkAnswer(adjusted, observations, control);
  return success({
    adjusted,
    systems,
    relations,
    points,
    observations,
    control,
    parameters: networkParameters(adjusted).filter(({ name }) => !inner.has(name)),
    distortions: networkDistortions(adjusted),
    components: reasons.length > 0 || adjusted.freeTest.answer !== 'within' ? networkComponents(adjusted) : [],
    bases: determinedBases(adjusted, points, sessionBases, relations),
    answer: hasRejected ? 'no' : answer,
    reasons,
  });
}

/** The answer of a run with its counts: of observations and control. */
export function networkRunAnswer({ answer, observations, control }: NetworkResults): RunAnswer {
  const verdicts = new Map<Answer, number>([
    ['within', 0],
    ['review', 0],
    ['no', 0],
  ]);
  const reasons = new Map<string, number>();
  for (const row of [...observations, ...control]) {
    verdicts.set(row.verdict, (verdicts.get(row.verdict) ?? 0) + 1);
    for (const reason of row.reasons) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
  }
  return { answer, verdicts, reasons };
}

/** Stations that an observation in doubt meets: all of its own, unless a base that many meet; and control that its test refuses, whether it holds or was left out. */
function suspectsOf(
  observations: readonly NetworkObservationResult[],
  control: readonly NetworkControlResult[],
): ReadonlyMap<string, readonly ProblemCode[]> {
  const foul = new Map<string, number>();
  const add = (counts: Map<string, number>, id: string): void => {
    // Not counted yet.
    counts.set(id, (counts.get(id) ?? 0) + 1);
  };
  for (const { fromId, toId, reasons } of observations)
    if (reasons.includes('network-observation')) {
      add(foul, fromId);
      add(foul, toId);
    }
  const all = new Map<string, number>();
  for (const { fromId, toId } of foul.size === 0 ? [] : observations) {
    if (foul.has(fromId)) add(all, fromId);
    if (foul.has(toId)) add(all, toId);
  }
  const suspects = new Map<string, readonly ProblemCode[]>();
  for (const [id, count] of foul)
    if (2 * count >= present(all.get(id), 'the count of a station')) suspects.set(id, ['network-observation']);
  for (const { id, verdict, reasons } of control)
    // None yet, unless an observation in doubt meets it too.
    if (verdict === 'no') suspects.set(id, [...(suspects.get(id) ?? []), ...reasons]);
  return suspects;
}
