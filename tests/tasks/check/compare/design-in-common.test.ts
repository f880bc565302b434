import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../../../src/tasks/check/compare/check-tolerances-design.js';
import { PLAIN_CHECK, pointRow } from '../../../support/check-setup.js';

const at = (pointId: string, gridFirst: number) =>
  pointRow({ pointId, gridFirst, gridSecond: 0, sigmaHorizontalM: 0.01 });

describe('design points that were measured', () => {
  const checked = (measured: readonly string[], design: readonly string[]) =>
    checkDesign(
      measured.map((id) => at(id, 1)),
      design.map((id) => at(id, 2)),
      'design.csv',
      PLAIN_CHECK,
    );
  it('are those of both files, and at least one', () => {
    const none = checked(['A'], ['B']);
    expect([none.ok, none.problems.map(({ code }) => code)]).toEqual([false, ['check-nothing-in-common']]);
    const one = checked(['A', 'B'], ['B', 'C']);
    expect(one.ok && [...one.value.rows].map(({ pointId, firstM }) => [pointId, firstM])).toEqual([['B', -1]]);
  });
});
