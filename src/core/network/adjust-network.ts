import { chiSquareQuantile } from '../numeric/distributions/chi-square.js';
import { entryAt } from '../../records/present.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { controlPull, foulHeld } from './evidence/control-pull.js';
import type { ControlPull } from './evidence/control-pull.js';
import type { ControlTest, ControlTests } from './evidence/control-tests.js';
import { withDistortions } from './distortions/distortion.js';
import type { DistortionCandidate, DistortionSearch } from './distortions/distortion.js';
import { distortionEvidence } from './distortions/distortion-evidence.js';
import { findDistortions, keptOf } from './distortions/find-distortions.js';
import type { DistortionsFound } from './distortions/find-distortions.js';
import type { EquationOrigin } from './equations/equation-origins.js';
import { controlLevel, controlLimits, judgeControl } from './evidence/judge-control.js';
import type { ControlLimit } from './evidence/judge-control.js';
import { leftOutOf, testNetwork, withoutOutliers } from './evidence/judge-observations.js';
import type { ExcludedObservation, TestedNetwork } from './evidence/judge-observations.js';
import { anchorsOf, heldFast, meanHeld } from './stations/minimal-datum.js';
import { NETWORK_GLOBAL_LEVEL } from './evidence/network-levels.js';
import type { Network } from './network.js';
import type { EquationChoice } from './equations/network-equations.js';
import { networkStations } from './stations/network-stations.js';
import type { StationList } from './stations/network-stations.js';
import { solveNetwork } from './solve-network.js';
import type { SolvedNetwork } from './solve-network.js';

/** How a network is adjusted. */
export interface NetworkChoice {
  /** What holds the result: all control; one station of each part; the mean of the control of each part. */
  readonly datum: 'control' | 'minimal' | 'inner';
  /** Observations, then control, that fail are taken out one at a time. */
  readonly excludesOutliers: boolean;
  /** Where residuals are larger than the stated variances say, these are multiplied by what the residuals show. */
  readonly estimatesVariance: boolean;
  /** What vectors of a base or day may have in common, kept where it is significant; null or absent: nothing is looked for. */
  readonly distortions?: DistortionSearch | null;
}

/** vᵀPv against what the stated variances let one expect. */
export interface GlobalTest {
  readonly weightedSquares: number;
  readonly degreesOfFreedom: number;
  /** vᵀPv over the degrees of freedom; null without any. */
  readonly varianceFactor: number | null;
  /** Limits of vᵀPv on both sides; null without degrees of freedom. */
  readonly limits: readonly [number, number] | null;
  readonly answer: 'within' | 'too-large' | 'too-small' | 'not-tested';
}

/** A network adjusted in the order that protects its user: observations, then control, then coordinates. */
export interface AdjustedNetwork {
  /** As given, with the distortions that are kept as its last shared errors. */
  readonly network: Network;
  /** Null: none were looked for. */
  readonly distortions: DistortionsFound | null;
  /** Held by a minimal datum: what the observations are judged by. */
  readonly free: TestedNetwork;
  readonly freeTest: GlobalTest;
  readonly datum: NetworkChoice['datum'];
  /** Places of the control that holds the minimal datum. */
  readonly anchors: readonly number[];
  readonly excluded: readonly ExcludedObservation[];
  /** Of all control that the network meets, null: none but the datum. */
  readonly control: ControlTests | null;
  /** What a control point's test must not exceed, by its checked directions. */
  readonly controlLimit: ControlLimit;
  /** The test of each control point: of one that fails clearly among all there were, of the rest without those. */
  readonly controlPoints: readonly ControlTest[];
  /** Control that fails clearly, in the order it was found; `excludedControl` holds the same where it was to be taken out. */
  readonly suspectControl: readonly number[];
  readonly excludedControl: readonly number[];
  /** Control that holds the coordinates. */
  readonly held: readonly number[];
  /** What control that fails does to the coordinates it holds; null: none does. */
  readonly pull: ControlPull | null;
  /** What gives the coordinates: as `free` for a minimal datum. */
  readonly final: TestedNetwork;
  readonly finalTest: GlobalTest;
  /** What all covariances are multiplied by: 1, or the variance factor of `final`. */
  readonly scale: number;
}

/** Stations named in a message about a loose part. */
const MOST_NAMED = 10;

/**
 * Adjusts a network.
 *
 * Given: the network, whose covariances are positive definite and whose names agree; how. Returned: the adjustment with its
 * tests. Problems: network-loose for each part that nothing ties; network-undetermined.
 *
 * Notes: control of stations that nothing observes counts for nothing. Nothing is taken out unless asked for. Order of the
 * input changes no number: stations are put in the order of their names, and sums are taken in that of the lists given, which
 * the caller sorts.
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
 * const adjusted = adjustNetwork(network, { datum: 'control', excludesOutliers: false, estimatesVariance: false }).value;
 * [adjusted.freeTest.weightedSquares, adjusted.freeTest.degreesOfFreedom]; // [5.000, 3]
 */
export function adjustNetwork(network: Network, choice: NetworkChoice): Outcome<AdjustedNetwork> {
  const list = networkStations(network, choice.datum === 'control');
  if ('loose' in list) return failureOf(list.loose.map(looseProblem));
  const met = network.control.flatMap(({ id }, index) => (list.indexOf.has(id) ? [index] : []));
  const anchors = anchorsOf(network, list, met);
  const anchored = anchors.map((index) => ({ point: heldFast(entryAt(network.control, index)), index }));
  const ground: Ground = { network, list, met, anchors, anchored };
  const search = choice.distortions ?? null;
  if (search === null) return adjustWith(ground, choice, null);
  // What was left out as foul may have hidden a distortion, or was foul for the want of one: both are looked at again.
  let out: readonly EquationOrigin[] = [];
  for (let turn = 1; ; turn += 1) {
    const found = distortionsOf(ground, choice, search, out);
    if (found === null) return undetermined('a station');
    const outcome = adjustWith(ground, choice, found);
    if (!outcome.ok) return outcome;
    const { excluded, excludedControl } = outcome.value;
    const now = [...excluded, ...excludedControl.map((index) => ({ kind: 'control' as const, index }))];
    const isSame = now.length === out.length && now.every((one) => out.some((own) => isEqual(own, one)));
    if (isSame || turn === MOST_SEARCHES) return outcome;
    out = now;
  }
}

/** Searches for distortions at most, each without what the one before left out. */
const MOST_SEARCHES = 4;

const isEqual = (a: EquationOrigin, b: EquationOrigin): boolean => a.kind === b.kind && a.index === b.index;

/** A network with its stations and what may hold it. */
interface Ground {
  readonly network: Network;
  readonly list: StationList;
  readonly met: readonly number[];
  readonly anchors: readonly number[];
  readonly anchored: EquationChoice['control'];
}

/** Distortions, with all control where it holds the coordinates, without what is left out. */
function distortionsOf(
  { network, list, met, anchored }: Ground,
  { datum, estimatesVariance }: NetworkChoice,
  search: DistortionSearch,
  out: readonly EquationOrigin[],
): DistortionsFound | null {
  const holding = met.filter((index) => !out.some((one) => one.kind === 'control' && one.index === index));
  const control =
    datum === 'control' ? holding.map((index) => ({ point: entryAt(network.control, index), index })) : anchored;
  return findDistortions({ network, list, control, leftOut: out, isVarianceEstimated: estimatesVariance }, search);
}

/** The whole order of work, with the distortions found beforehand among the unknowns. */
function adjustWith(
  { network: plain, list, met, anchors, anchored }: Ground,
  choice: NetworkChoice,
  distortions: DistortionsFound | null,
): Outcome<AdjustedNetwork> {
  const kept = distortions === null ? [] : keptOf(distortions);
  const network = withDistortions(plain, kept);
  const priors = kept.map((_, k) => ({ kind: 'shared' as const, index: plain.shared.length + k }));
  const shown = shownFreely(plain, list, anchored, kept, priors);
  const start = choice.excludesOutliers
    ? withoutOutliers(network, list, anchored, choice.estimatesVariance, shown)
    : once(network, list, anchored, choice.estimatesVariance, shown);
  if (start === null || 'undetermined' in start) return undetermined(start?.undetermined ?? 'a station');
  const { tested: free, excluded } = start;
  const controlLimit = controlLimits(controlLevel(met.length), choice.estimatesVariance ? free.solved.solution : null);
  const judged = judgeControl(network, free.solved, anchors, met, choice.excludesOutliers, controlLimit);
  // Of the same observations only the control is another.
  const before = priors.length === 0 ? free.solved : null;
  const holding =
    choice.datum === 'control'
      ? judged.held.map((index) => ({ point: entryAt(network.control, index), index }))
      : choice.datum === 'inner'
        ? meanHeld(network, free.solved, anchored, met)
        : null;
  const leftOut = leftOutOf([...excluded, ...(choice.datum === 'control' ? priors : shown)]);
  const final = holding === null ? null : solveNetwork(network, list, { control: holding, leftOut }, before);
  if (final !== null && !final.ok) return undetermined(final.undetermined);
  const finalTested = final === null ? free : testNetwork(final.solved, choice.estimatesVariance);
  const finalTest = globalTest(finalTested.solved);
  const foul = choice.datum === 'control' ? foulHeld(judged.points, judged.held, controlLimit) : [];
  return success({
    network,
    distortions,
    datum: choice.datum,
    free,
    freeTest: globalTest(free.solved),
    anchors,
    excluded,
    control: judged.tests,
    controlLimit,
    controlPoints: judged.points,
    suspectControl: judged.suspects,
    excludedControl: choice.excludesOutliers ? judged.suspects : [],
    held: choice.datum === 'control' ? judged.held : anchors,
    pull: holding === null ? null : controlPull(network, finalTested.solved, foul, { control: holding, leftOut }),
    final: finalTested,
    finalTest,
    scale: choice.estimatesVariance && finalTest.answer === 'too-large' ? (finalTest.varianceFactor ?? 1) : 1,
  });
}

/** Priors of the distortions that the observations alone determine, one beside the other; in the free network the others keep theirs. */
function shownFreely(
  network: Network,
  list: StationList,
  control: EquationChoice['control'],
  kept: readonly DistortionCandidate[],
  priors: readonly EquationOrigin[],
): readonly EquationOrigin[] {
  const shown: EquationOrigin[] = [];
  kept.forEach((candidate, k) => {
    const before = withDistortions(network, kept.slice(0, k));
    const outcome = solveNetwork(before, list, { control, leftOut: leftOutOf(shown) });
    if (outcome.ok && distortionEvidence(outcome.solved, candidate, network.ellipsoid) !== null)
      shown.push(entryAt(priors, k));
  });
  return shown;
}

function once(
  network: Network,
  list: StationList,
  control: EquationChoice['control'],
  estimated: boolean,
  leftOut: readonly EquationOrigin[],
):
  | { readonly tested: TestedNetwork; readonly excluded: readonly ExcludedObservation[] }
  | { readonly undetermined: string } {
  const outcome = solveNetwork(network, list, { control, leftOut: leftOutOf(leftOut) });
  return outcome.ok
    ? { tested: testNetwork(outcome.solved, estimated), excluded: [] }
    : { undetermined: outcome.undetermined };
}

/** χ² of vᵀPv on both sides. */
function globalTest({ solution }: SolvedNetwork): GlobalTest {
  const { weightedSquares, degreesOfFreedom } = solution;
  if (degreesOfFreedom < 1)
    return { weightedSquares, degreesOfFreedom, varianceFactor: null, limits: null, answer: 'not-tested' };
  const half = NETWORK_GLOBAL_LEVEL / 2;
  const low = chiSquareQuantile(half, degreesOfFreedom);
  const high = chiSquareQuantile(1 - half, degreesOfFreedom);
  const answer = weightedSquares > high ? 'too-large' : weightedSquares < low ? 'too-small' : 'within';
  return {
    weightedSquares,
    degreesOfFreedom,
    varianceFactor: weightedSquares / degreesOfFreedom,
    limits: [low, high],
    answer,
  };
}

function looseProblem({ ids, lacks }: { readonly ids: readonly string[]; readonly lacks: string }): Problem {
  const named = ids.slice(0, MOST_NAMED).join(', ');
  const more = ids.length > MOST_NAMED ? ` and ${ids.length - MOST_NAMED} more` : '';
  return errorProblem('network-loose', {
    message: `nothing gives ${lacks} to ${ids.length === 1 ? 'the station' : 'the part of the network that holds'} ${named}${more}`,
    hint: 'give control to one of its stations, or an observation that ties it to the rest',
  });
}

function undetermined(name: string): Outcome<AdjustedNetwork> {
  return failureOf([
    errorProblem('network-undetermined', {
      message: `the observations do not determine ${name}`,
      hint: 'a distance or a height difference alone does not place a station: give it a vector, or control',
    }),
  ]);
}
