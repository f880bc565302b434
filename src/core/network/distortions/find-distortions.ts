import { blockLimits } from '../evidence/block-limits.js';
import type { EquationOrigin } from '../equations/equation-origins.js';
import { leftOutOf, testNetwork } from '../evidence/judge-observations.js';
import type { TestedNetwork } from '../evidence/judge-observations.js';
import { DETECTION_POWER, NETWORK_DISTORTIONS_LEVEL } from '../evidence/network-levels.js';
import type { Network } from '../network.js';
import type { EquationChoice } from '../equations/network-equations.js';
import type { StationList } from '../stations/network-stations.js';
import { solveNetwork } from '../solve-network.js';
import type { SolvedNetwork } from '../solve-network.js';
import { distortionCandidates, ungroupedVectors, withDistortions } from './distortion.js';
import type { DistortionCandidate, DistortionSearch } from './distortion.js';
import { distortionEvidence } from './distortion-evidence.js';
import type { DistortionEvidence } from './distortion-evidence.js';

/** What became of a distortion that was looked for. */
export interface DistortionFinding {
  readonly candidate: DistortionCandidate;
  /**
   * `kept`; `not-significant`; `undetermined`: places and shifts take it up whole; `one-alone`: without one observation or control
   * point nothing asks for it.
   */
  readonly answer: 'kept' | 'not-significant' | 'undetermined' | 'one-alone';
  /** By itself with those kept; null where nothing is known of it. */
  readonly evidence: DistortionEvidence | null;
  /** Of `one-alone`: what it hangs on. */
  readonly hangsOn: EquationOrigin | null;
}

/** Distortions that were looked for. */
export interface DistortionsFound {
  readonly findings: readonly DistortionFinding[];
  /** Vectors of none of the days that were looked at. */
  readonly ungrouped: number;
  /** Chance that one that is not there is kept, and what its test must exceed; null: no degree of freedom is left to say. */
  readonly level: number;
  readonly limit: number | null;
}

/** Observations, and control points, that are left out for trial before a distortion is kept: those that fail most. */
const RIVALS = 3;

/** What holds the network, and what is left out of it, while distortions are looked for. */
export interface DistortionGround {
  readonly network: Network;
  readonly list: StationList;
  readonly control: EquationChoice['control'];
  readonly leftOut: readonly EquationOrigin[];
  readonly isVarianceEstimated: boolean;
}

/**
 * Distortions that observations and control ask for, one at a time, the clearest first.
 *
 * Given: the network with what holds it; what is looked for. Returned: every candidate with its answer. Notes:
 * 1. The chance that a network without any keeps one is `NETWORK_DISTORTIONS_LEVEL`, shared evenly over all that could show.
 * 2. A distortion is kept only where it is as clear without each of the observations and control points that fail most: one
 *    blunder can look like a scale. Two can deceive this.
 * 3. Each kept one is tested again beside the others in the end, and goes where it is no longer clear.
 */
export function findDistortions(ground: DistortionGround, search: DistortionSearch): DistortionsFound | null {
  const { ellipsoid } = ground.network;
  const candidates = distortionCandidates(ground.network, search);
  const first = solved(ground, [], []);
  if (first === null) return null;
  const level = levelOf(candidates.filter((one) => distortionEvidence(first, one, ellipsoid) !== null).length);
  const limitOf = (from: SolvedNetwork): number | null =>
    blockLimits(level, DETECTION_POWER, ground.isVarianceEstimated ? from.solution : null).block(1);
  const hangs = new Map<DistortionCandidate, EquationOrigin>();
  const gone = new Set<DistortionCandidate>();
  let kept: readonly DistortionCandidate[] = [];
  for (let now: SolvedNetwork | null = first; now !== null;) {
    const limit = limitOf(now);
    const next = limit === null ? null : clearest(ground, now, candidates, [...kept, ...hangs.keys(), ...gone], limit);
    if (next === null || limit === null) break;
    const alone = hangsOn(ground, now, kept, next, limit);
    if (alone !== null) {
      hangs.set(next, alone);
      continue;
    }
    kept = stillClear(ground, [...kept, next], limit, gone);
    // Room for one more: those refused before are looked at anew beside it.
    hangs.clear();
    now = solved(ground, kept, []);
  }
  const last = solved(ground, kept, []);
  if (last === null) return null;
  return {
    level,
    limit: limitOf(last),
    ungrouped: ungroupedVectors(ground.network, search),
    findings: candidates.map((candidate) => finding(ground, last, candidate, kept, hangs.get(candidate) ?? null)),
  };
}

/** Distortions kept, as they were found. */
export function keptOf({ findings }: DistortionsFound): readonly DistortionCandidate[] {
  return findings.flatMap(({ candidate, answer }) => (answer === 'kept' ? [candidate] : []));
}

function levelOf(count: number): number {
  return -Math.expm1(Math.log1p(-NETWORK_DISTORTIONS_LEVEL) / Math.max(1, count));
}

/** The network with these distortions; their priors, which stand behind all other shared errors, are left out: they are known to show. */
function solved(
  { network, list, control, leftOut }: DistortionGround,
  kept: readonly DistortionCandidate[],
  without: readonly EquationOrigin[],
): SolvedNetwork | null {
  const priors = kept.map((_, k) => ({ kind: 'shared' as const, index: network.shared.length + k }));
  const outcome = solveNetwork(withDistortions(network, kept), list, {
    control: control.filter(({ index }) => !without.some((one) => one.kind === 'control' && one.index === index)),
    leftOut: leftOutOf([...leftOut, ...priors, ...without]),
  });
  return outcome.ok ? outcome.solved : null;
}

function clearest(
  { network: { ellipsoid } }: DistortionGround,
  now: SolvedNetwork,
  candidates: readonly DistortionCandidate[],
  others: readonly DistortionCandidate[],
  limit: number,
): DistortionCandidate | null {
  let best: { readonly candidate: DistortionCandidate; readonly test: number } | null = null;
  for (const candidate of candidates) {
    if (others.includes(candidate)) continue;
    const evidence = distortionEvidence(now, candidate, ellipsoid);
    if (evidence !== null && evidence.test > (best?.test ?? limit)) best = { candidate, test: evidence.test };
  }
  return best?.candidate ?? null;
}

function isClear(
  { network: { ellipsoid } }: DistortionGround,
  now: SolvedNetwork,
  candidate: DistortionCandidate,
  limit: number,
): boolean {
  const evidence = distortionEvidence(now, candidate, ellipsoid);
  return evidence !== null && evidence.test > limit;
}

/** What a distortion is no longer clear without; null: nothing alone. */
function hangsOn(
  ground: DistortionGround,
  now: SolvedNetwork,
  kept: readonly DistortionCandidate[],
  candidate: DistortionCandidate,
  limit: number,
): EquationOrigin | null {
  for (const origin of mostFoul(testNetwork(now, ground.isVarianceEstimated))) {
    const rest = solved(ground, kept, [origin]);
    // Without it nothing would hold the network: then it says nothing of a distortion either.
    if (rest === null) continue;
    if (!isClear(ground, rest, candidate, limit)) return origin;
  }
  return null;
}

/** The observations and the control points with the largest tests. */
function mostFoul({ solved: { built }, tests }: TestedNetwork): readonly EquationOrigin[] {
  const most = (isAsked: (at: number) => boolean): readonly EquationOrigin[] => {
    const found: number[] = [];
    for (let at = 0; at < built.origins.length; at += 1) {
      if (!isAsked(at) || tests.checkedDirections[at] === 0) continue;
      let place = found.length;
      while (place > 0 && tests.blockTest[at]! > tests.blockTest[found[place - 1]!]!) place -= 1;
      if (place < RIVALS) found.splice(place, 0, at);
      if (found.length > RIVALS) found.pop();
    }
    return found.map((at) => built.origins.of(at));
  };
  const { origins } = built;
  return [
    ...most((at) => origins.isMeasured(at)),
    ...most((at) => !origins.isMeasured(at) && origins.of(at).kind === 'control'),
  ];
}

/** Those that are clear beside the others; what is not goes, and does not come back. */
function stillClear(
  ground: DistortionGround,
  kept: readonly DistortionCandidate[],
  limit: number,
  gone: Set<DistortionCandidate>,
): readonly DistortionCandidate[] {
  let rest = kept;
  for (;;) {
    const weak = rest.find((own) => {
      const beside = solved(
        ground,
        rest.filter((other) => other !== own),
        [],
      );
      return beside === null || !isClear(ground, beside, own, limit);
    });
    if (weak === undefined) return rest;
    gone.add(weak);
    rest = rest.filter((own) => own !== weak);
  }
}

function finding(
  ground: DistortionGround,
  last: SolvedNetwork,
  candidate: DistortionCandidate,
  kept: readonly DistortionCandidate[],
  alone: EquationOrigin | null,
): DistortionFinding {
  const isKept = kept.includes(candidate);
  const beside = isKept
    ? solved(
        ground,
        kept.filter((other) => other !== candidate),
        [],
      )
    : last;
  const evidence = beside === null ? null : distortionEvidence(beside, candidate, ground.network.ellipsoid);
  const answer = isKept
    ? 'kept'
    : evidence === null
      ? 'undetermined'
      : alone === null
        ? 'not-significant'
        : 'one-alone';
  return { candidate, answer, evidence, hangsOn: answer === 'one-alone' ? alone : null };
}
