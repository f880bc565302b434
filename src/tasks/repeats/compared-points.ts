import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { withReasons } from './disputed-stands.js';
import { createRepeatKeeper } from './repeat-keeper.js';

/**
 * The points of a run after their repeats have been compared.
 *
 * Given: every occupation, in the order it was reduced; the setup. Returned: the same; those of a point whose occupations contradict
 * each other, at one level over the run, are for review and say why. See docs/methods/repeat-check.md.
 *
 * @example
 * // QP-03 of examples/quillback-pan was given wrong integers in one of its occupations (planted.csv).
 * const session = await readSessionFile('session.toml');
 * const { value: reduction } = await prepareReduction(session.value, ['fixes.csv']);
 * const reduced = [];
 * const reducer = createReducer(reduction.setup, { onPoint: (one) => reduced.push(one), onProblems: () => {} });
 * const { value: fixes } = await readFixesFile('fixes.csv', reduction);
 * for await (const block of fixes.blocks()) reducer.push(block.value.fixes);
 * reducer.finish();
 * const points = comparedPoints(reduced.map(({ point }) => point), reduction.setup);
 * points.find(({ pointId }) => pointId === 'QP-03').reasons.includes('point-repeat-disagrees'); // true
 */
export function comparedPoints(points: readonly ReducedPoint[], setup: ReductionSetup): readonly ReducedPoint[] {
  const keeper = createRepeatKeeper(setup);
  for (const point of points) keeper.add(point);
  const added = new Map(keeper.compare().disputed.map(({ row, reasons }) => [row, reasons]));
  return points.map((point, row) => {
    const reasons = added.get(row);
    return reasons === undefined ? point : withReasons(point, reasons);
  });
}
