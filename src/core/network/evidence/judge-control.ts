import { chiSquareQuantile } from '../../numeric/distributions/chi-square.js';
import { fQuantile } from '../../numeric/distributions/f-distribution.js';
import { ODD_STAND_LEAD } from '../../quality/decision-levels.js';
import { testControl } from './control-tests.js';
import type { ControlTest, ControlTests } from './control-tests.js';
import { NETWORK_CONTROL_LEVEL } from './network-levels.js';
import type { Network } from '../network.js';
import type { SolvedNetwork } from '../solve-network.js';

/** What the test of a control point must not exceed, by its checked directions; null: nothing says it. */
export type ControlLimit = (directions: number) => number | null;

/** The chance that one true control point fails, where so many are tested. */
export function controlLevel(count: number): number {
  return -Math.expm1(Math.log1p(-NETWORK_CONTROL_LEVEL) / Math.max(1, count));
}

/**
 * Limits of the tests of control. Given: the chance that a true point fails; null: the stated variances hold (chi-square), or the
 * free network, whose residuals give the variance factor (F, with its degrees of freedom).
 */
export function controlLimits(
  level: number,
  estimated: { readonly weightedSquares: number; readonly degreesOfFreedom: number } | null,
): ControlLimit {
  return (directions) => {
    if (estimated === null) return chiSquareQuantile(1 - level, directions);
    const { weightedSquares, degreesOfFreedom } = estimated;
    if (degreesOfFreedom < 1) return null;
    return (directions * weightedSquares * fQuantile(1 - level, directions, degreesOfFreedom)) / degreesOfFreedom;
  };
}

/** Control held against the free network. */
export interface JudgedControl {
  readonly tests: ControlTests | null;
  readonly points: readonly ControlTest[];
  readonly held: readonly number[];
  readonly suspects: readonly number[];
}

/** All control against the free network; the one that fails most clearly is put aside, and the rest tested again without it. */
export function judgeControl(
  network: Network,
  free: SolvedNetwork,
  anchors: readonly number[],
  met: readonly number[],
  excludes: boolean,
  limit: ControlLimit,
): JudgedControl {
  const test = (indexes: readonly number[]): ControlTests | null =>
    indexes.length <= anchors.length ? null : testControl(network, free, anchors, indexes);
  const tests = test(met);
  const aside: ControlTest[] = [];
  let rest = met;
  let now = tests;
  while (now !== null && now.points.length > anchors.length + 2) {
    const failing = now.points
      .filter(({ test: value, checkedDirections }) => {
        const most = checkedDirections > 0 ? limit(checkedDirections) : null;
        return most !== null && value > most;
      })
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
