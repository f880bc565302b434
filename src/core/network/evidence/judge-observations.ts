import { ODD_STAND_LEAD } from '../../quality/decision-levels.js';
import { blockCofactors } from '../blocks/block-cofactors.js';
import type { BlockCofactors } from '../blocks/block-cofactors.js';
import { rowsOf } from '../blocks/block-equations.js';
import { blockLimits } from './block-limits.js';
import type { BlockLimits } from './block-limits.js';
import { blockTests } from './block-tests.js';
import type { BlockTests } from './block-tests.js';
import type { EquationOrigin, MeasuredKind } from '../equations/equation-origins.js';
import { leastSum } from './least-sum.js';
import type { Network } from '../network.js';
import type { EquationChoice } from '../equations/network-equations.js';
import { DETECTION_POWER, NETWORK_OBSERVATIONS_LEVEL } from './network-levels.js';
import type { StationList } from '../stations/network-stations.js';
import { solveNetwork } from '../solve-network.js';
import type { SolvedNetwork } from '../solve-network.js';

/** A solved network with the test of each equation. */
export interface TestedNetwork {
  readonly solved: SolvedNetwork;
  readonly cofactors: BlockCofactors;
  /** In the order of the equations. */
  readonly tests: BlockTests;
  readonly limits: BlockLimits;
}

/** An observation that was left out, and why. */
export interface ExcludedObservation {
  readonly kind: MeasuredKind;
  readonly index: number;
  /** Its test and limit when it was left out, null: the start that withstands many blunders left it out. */
  readonly test: number | null;
  readonly limit: number | null;
}

type Measured = EquationOrigin & { readonly kind: MeasuredKind };

/** Where more than this fail at once, a start that withstands blunders is tried too: tests one by one are bent by the others. */
const MANY = 5;
/** For naming suspects residuals need not be finer than this, in sigmas. */
const COARSE_FLOOR = 0.1;

/** Tests of every equation of a solved network. `estimated`: the variance factor is taken from the residuals. */
export function testNetwork(solved: SolvedNetwork, estimated: boolean): TestedNetwork {
  const { solution, built } = solved;
  const cofactors = blockCofactors(solution);
  let count = 0;
  for (let at = 0; at < built.origins.length; at += 1) if (built.origins.isMeasured(at)) count += 1;
  const level = -Math.expm1(Math.log1p(-NETWORK_OBSERVATIONS_LEVEL) / Math.max(1, count));
  return {
    solved,
    cofactors,
    tests: blockTests(solution, cofactors),
    limits: blockLimits(level, DETECTION_POWER, estimated ? solution : null),
  };
}

/** The failing observations, those that stand out most first: place among the equations, and the test. */
function failing({ solved, tests, limits }: TestedNetwork): readonly { readonly at: number; readonly test: number }[] {
  const found: { at: number; excess: number; test: number }[] = [];
  const { origins } = solved.built;
  for (let at = 0; at < origins.length; at += 1) {
    const directions = tests.checkedDirections[at]!;
    if (!origins.isMeasured(at) || directions === 0) continue;
    const limit = limits.block(directions);
    const test = tests.blockTest[at]!;
    if (limit !== null && test > limit) found.push({ at, excess: test / limit, test });
  }
  return found.sort((a, b) => b.excess - a.excess || a.at - b.at);
}

/** A network with what was left out of it. */
interface Cleaned {
  readonly tested: TestedNetwork;
  readonly excluded: readonly ExcludedObservation[];
}

/**
 * Takes observations that fail out of a network one at a time, and back in where the rest comes to agree with them.
 *
 * Given: the network; its stations; the datum; whether the variance factor is estimated; what is left out whatever happens. Returned: the network without them,
 * and what was left out, in order; null where the network is not determined to begin with.
 *
 * Notes:
 * 1. An observation is left out only where no other is nearly as suspect and would agree once it is gone: where two speak
 *    against each other alone, nothing tells which is wrong, and both stay.
 * 2. Where many fail at once, a start from the least sum of absolute residuals is tried as well, and what leaves out less is taken.
 */
export function withoutOutliers(
  network: Network,
  list: StationList,
  control: EquationChoice['control'],
  estimated: boolean,
  always: readonly EquationOrigin[],
): Cleaned | null {
  const solve = (out: ReadonlyMap<string, ExcludedObservation>): TestedNetwork | null => {
    const outcome = solveNetwork(network, list, { control, leftOut: leftOutOf([...always, ...out.values()]) });
    return outcome.ok ? testNetwork(outcome.solved, estimated) : null;
  };
  const all = solve(new Map());
  if (all === null) return null;
  const plain = cleaned(solve, all, new Map());
  if (failing(all).length <= MANY) return plain;
  const suspects = suspectsOf(all);
  const without = solve(suspects);
  if (without === null) return plain;
  const other = cleaned(solve, without, suspects);
  const isBetter =
    failing(other.tested).length < failing(plain.tested).length ||
    (failing(other.tested).length === failing(plain.tested).length && other.excluded.length < plain.excluded.length);
  return isBetter ? other : plain;
}

/** What is left out, as the equations ask for it. */
export function leftOutOf(
  excluded: readonly { readonly kind: EquationOrigin['kind']; readonly index: number }[],
): EquationChoice['leftOut'] {
  const out = new Map<EquationOrigin['kind'], Set<number>>();
  for (const { kind, index } of excluded) {
    const own = out.get(kind) ?? new Set();
    own.add(index);
    out.set(kind, own);
  }
  return { has: (kind, index) => out.get(kind)?.has(index) === true };
}

const keyOf = (kind: string, index: number): string => `${kind} ${index}`;

/** One out at a time, then back in, until nothing clear is left to do. */
function cleaned(
  solve: (out: ReadonlyMap<string, ExcludedObservation>) => TestedNetwork | null,
  start: TestedNetwork,
  suspects: ReadonlyMap<string, ExcludedObservation>,
): Cleaned {
  const out = new Map(suspects);
  const unclear = new Set<string>();
  let tested = start;
  for (;;) {
    const foul = failing(tested);
    const named = foul.map((one) => ({ ...one, origin: tested.solved.built.origins.of(one.at) }));
    const first = named.find(({ origin: { kind, index } }) => !unclear.has(keyOf(kind, index)));
    if (first === undefined) break;
    const { kind, index } = first.origin as Measured;
    const key = keyOf(kind, index);
    const limit = tested.limits.block(tested.tests.checkedDirections[first.at]!);
    const next = solve(new Map([...out, [key, { kind, index, test: first.test, limit }]]));
    const still = next === null ? null : new Set(failing(next).map(({ at }) => keyOfOrigin(next, at)));
    const rivals = named.filter(
      ({ test, origin }) =>
        origin !== first.origin &&
        first.test - test < ODD_STAND_LEAD &&
        still?.has(keyOf(origin.kind, origin.index)) === false,
    );
    if (next === null || rivals.length > 0) {
      unclear.add(key);
      for (const { origin } of rivals) unclear.add(keyOf(origin.kind, origin.index));
      continue;
    }
    out.set(key, { kind, index, test: first.test, limit });
    tested = next;
  }
  return readmitted(solve, tested, out);
}

function keyOfOrigin({ solved }: TestedNetwork, at: number): string {
  const { kind, index } = solved.built.origins.of(at);
  return keyOf(kind, index);
}

/** Those that the least sum of absolute residuals leaves far from all others. */
function suspectsOf(all: TestedNetwork): ReadonlyMap<string, ExcludedObservation> {
  const suspects = new Map<string, ExcludedObservation>();
  const start = leastSum(all.solved.built.equations, COARSE_FLOOR);
  if (start === null) return suspects;
  const { origins, equations } = all.solved.built;
  for (let at = 0; at < origins.length; at += 1) {
    if (!origins.isMeasured(at)) continue;
    const limit = all.limits.block(rowsOf(equations, at));
    if (limit === null || start.lengths[at]! ** 2 <= limit) continue;
    const { kind, index } = origins.of(at) as Measured;
    suspects.set(keyOf(kind, index), { kind, index, test: null, limit: null });
  }
  return suspects;
}

/** Takes back in, best first, what the rest agrees with. */
function readmitted(
  solve: (out: ReadonlyMap<string, ExcludedObservation>) => TestedNetwork | null,
  start: TestedNetwork,
  left: ReadonlyMap<string, ExcludedObservation>,
): Cleaned {
  let tested = start;
  let out = new Map(left);
  for (;;) {
    let best: { readonly key: string; readonly excess: number; readonly tested: TestedNetwork } | null = null;
    for (const key of out.keys()) {
      const others = new Map(out);
      others.delete(key);
      const next = solve(others);
      if (next === null || failing(next).length > failing(tested).length) continue;
      const lost = next.solved.solution.weightedSquares - tested.solved.solution.weightedSquares;
      const gained = next.solved.solution.degreesOfFreedom - tested.solved.solution.degreesOfFreedom;
      const limit = gained < 1 ? null : tested.limits.block(gained);
      if (limit === null || lost > limit || (best !== null && lost / limit >= best.excess)) continue;
      best = { key, excess: lost / limit, tested: next };
    }
    if (best === null) return { tested, excluded: [...out.values()] };
    const { key } = best;
    out = new Map([...out].filter(([own]) => own !== key));
    ({ tested } = best);
  }
}
