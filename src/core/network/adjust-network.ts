import { chiSquareQuantile } from '../numeric/distributions/chi-square.js';
import { ODD_STAND_LEAD } from '../quality/decision-levels.js';
import { entryAt, present } from '../../records/present.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { testControl } from './control-tests.js';
import type { ControlTest, ControlTests } from './control-tests.js';
import { leftOutOf, testNetwork, withoutOutliers } from './judge-observations.js';
import type { ExcludedObservation, TestedNetwork } from './judge-observations.js';
import { NETWORK_CONTROL_LEVEL, NETWORK_GLOBAL_LEVEL } from './network-levels.js';
import type { ControlPoint, Network } from './network.js';
import type { EquationChoice } from './network-equations.js';
import { networkStations } from './network-stations.js';
import type { StationList } from './network-stations.js';
import { adjustedPosition, solveNetwork } from './solve-network.js';
import type { SolvedNetwork } from './solve-network.js';

/** How a network is adjusted. */
export interface NetworkChoice {
  /** What holds the result: all control; one station of each part; the mean of the control of each part. */
  readonly datum: 'control' | 'minimal' | 'inner';
  /** Observations, then control, that fail are taken out one at a time. */
  readonly excludesOutliers: boolean;
  /** Where residuals are larger than the stated variances say, these are multiplied by what the residuals show. */
  readonly estimatesVariance: boolean;
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
  readonly network: Network;
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
  readonly controlLimit: (directions: number) => number;
  /** The test of each control point: of one that fails clearly among all there were, of the rest without those. */
  readonly controlPoints: readonly ControlTest[];
  /** Control that fails clearly, in the order it was found; `excludedControl` holds the same where it was to be taken out. */
  readonly suspectControl: readonly number[];
  readonly excludedControl: readonly number[];
  /** Control that holds the coordinates. */
  readonly held: readonly number[];
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
  const start = choice.excludesOutliers
    ? withoutOutliers(network, list, anchored, choice.estimatesVariance)
    : once(network, list, anchored, choice.estimatesVariance);
  if (start === null || 'undetermined' in start) return undetermined(start?.undetermined ?? 'a station');
  const { tested: free, excluded } = start;
  const leftOut = leftOutOf(excluded);
  const controlLimit = limitOfControl(met.length);
  const judged = judgeControl(network, free.solved, anchors, met, choice.excludesOutliers, controlLimit);
  // Control meets no other unknowns than its own place, but for the geoid's: the order found once serves.
  const order = free.solved.built.geoidBlocks === null ? free.solved.solution.factor.order : null;
  const holding =
    choice.datum === 'control'
      ? judged.held.map((index) => ({ point: entryAt(network.control, index), index }))
      : choice.datum === 'inner'
        ? meanHeld(network, free.solved, anchored, met)
        : null;
  const final = holding === null ? null : solveNetwork(network, list, { control: holding, leftOut }, order);
  if (final !== null && !final.ok) return undetermined(final.undetermined);
  const finalTested = final === null ? free : testNetwork(final.solved, choice.estimatesVariance);
  const finalTest = globalTest(finalTested.solved);
  return success({
    network,
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
    final: finalTested,
    finalTest,
    scale: choice.estimatesVariance && finalTest.answer === 'too-large' ? (finalTest.varianceFactor ?? 1) : 1,
  });
}

function once(
  network: Network,
  list: StationList,
  control: EquationChoice['control'],
  estimated: boolean,
):
  | { readonly tested: TestedNetwork; readonly excluded: readonly ExcludedObservation[] }
  | { readonly undetermined: string } {
  const outcome = solveNetwork(network, list, { control, leftOut: { has: () => false } });
  return outcome.ok
    ? { tested: testNetwork(outcome.solved, estimated), excluded: [] }
    : { undetermined: outcome.undetermined };
}

/** Of each part the control point that most observations meet, of equals the first by name; held with its place and height. */
function anchorsOf(network: Network, list: StationList, met: readonly number[]): readonly number[] {
  const counts = new Int32Array(list.stations.length);
  for (const ends of [list.ends.vectors, list.ends.levelled, list.ends.distances])
    for (const station of ends) counts[station]! += 1;
  const best = new Map<number, number>();
  for (const index of met) {
    const { id, position } = entryAt(network.control, index);
    const station = stationOf(list, id);
    const { part, place } = entryAt(list.stations, station);
    if (part === null || (place !== null && position === null)) continue;
    const other = best.get(part);
    if (other !== undefined) {
      const otherId = entryAt(network.control, other).id;
      const gain = counts[station]! - counts[stationOf(list, otherId)]!;
      if (gain < 0 || (gain === 0 && id >= otherId)) continue;
    }
    best.set(part, index);
  }
  return [...best].sort(([a], [b]) => a - b).map(([, index]) => index);
}

function stationOf({ indexOf }: StationList, id: string): number {
  return present(indexOf.get(id), 'the station of a control point');
}

/** A control point as a datum: without error, and, where it has a place, with the height of that place. */
function heldFast(point: ControlPoint): ControlPoint {
  const orthometricHeightM = point.position === null ? point.orthometricHeightM : null;
  return { ...point, held: 'fixed', covariance: null, heightVarianceM2: null, orthometricHeightM };
}

/** The datum moved, part by part, to where the network's own places of its control have the mean of what is stated. */
function meanHeld(
  network: Network,
  free: SolvedNetwork,
  anchored: EquationChoice['control'],
  met: readonly number[],
): EquationChoice['control'] {
  const { stations } = free.list;
  return anchored.map(({ point, index }) => {
    if (point.position === null) return { point, index };
    const { part } = entryAt(stations, stationOf(free.list, point.id));
    const own = met.filter((other) => {
      const { id, position } = entryAt(network.control, other);
      return position !== null && entryAt(stations, stationOf(free.list, id)).part === part;
    });
    const shift = { xM: 0, yM: 0, zM: 0 };
    for (const other of own) {
      const { id, position } = entryAt(network.control, other);
      const stated = present(position, 'the place of a control point');
      const computed = present(adjustedPosition(free, stationOf(free.list, id)), 'the place of a station');
      shift.xM += (stated.xM - computed.xM) / own.length;
      shift.yM += (stated.yM - computed.yM) / own.length;
      shift.zM += (stated.zM - computed.zM) / own.length;
    }
    const { xM, yM, zM } = point.position;
    return { point: { ...point, position: { xM: xM + shift.xM, yM: yM + shift.yM, zM: zM + shift.zM } }, index };
  });
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

function limitOfControl(count: number): (directions: number) => number {
  const level = -Math.expm1(Math.log1p(-NETWORK_CONTROL_LEVEL) / Math.max(1, count));
  return (directions) => chiSquareQuantile(1 - level, directions);
}

interface JudgedControl {
  readonly tests: ControlTests | null;
  readonly points: readonly ControlTest[];
  readonly held: readonly number[];
  readonly suspects: readonly number[];
}

/** All control against the free network; the one that fails most clearly is put aside, and the rest tested again without it. */
function judgeControl(
  network: Network,
  free: SolvedNetwork,
  anchors: readonly number[],
  met: readonly number[],
  excludes: boolean,
  limit: (directions: number) => number,
): JudgedControl {
  const test = (indexes: readonly number[]): ControlTests | null =>
    indexes.length <= anchors.length ? null : testControl(network, free, anchors, indexes);
  const tests = test(met);
  const aside: ControlTest[] = [];
  let rest = met;
  let now = tests;
  while (now !== null && now.points.length > anchors.length + 2) {
    const failing = now.points
      .filter(({ test: value, checkedDirections }) => checkedDirections > 0 && value > limit(checkedDirections))
      .sort((a, b) => b.test - a.test || a.index - b.index);
    const [first, second] = failing;
    if (first === undefined || (second !== undefined && first.test - second.test < ODD_STAND_LEAD)) break;
    aside.push(first);
    rest = rest.filter((index) => index !== first.index);
    now = test(rest);
  }
  const suspects = aside.map(({ index }) => index);
  // No control is left to be tested.
  const points = [...aside, ...(now?.points ?? [])].sort((a, b) => a.index - b.index);
  return { tests, points, held: excludes ? rest : met, suspects };
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
