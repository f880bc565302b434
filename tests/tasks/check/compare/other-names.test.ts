import { describe, expect, it } from 'vitest';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { checkControl } from '../../../../src/tasks/check/compare/check-tolerances-control.js';
import { checkDesign } from '../../../../src/tasks/check/compare/check-tolerances-design.js';
import { checkRepeats } from '../../../../src/tasks/check/compare/check-tolerances-repeats.js';
import { otherNameStatements } from '../../../../src/tasks/check/compare/other-names.js';
import { PLAIN_CHECK, pointRow } from '../../../support/check-setup.js';

// Invented points; the distances stated are written down beside each.
const at = (pointId: string, gridFirst: number | null, own: Partial<PointRow> = {}): PointRow =>
  pointRow({ pointId, gridFirst, gridSecond: gridFirst === null ? null : 0, sigmaHorizontalM: 0.01, ...own });

const found = (points: readonly PointRow[], control: readonly PointRow[]) => {
  const checked = checkControl(points, control, 'control.csv', PLAIN_CHECK);
  if (!checked.ok) throw new Error(JSON.stringify(checked.problems));
  return checked.value.otherNames;
};
const SAME = [at('same', 500), at('same', 500)] as const;

describe('measured points that are control under another name', () => {
  it('are found where the names differ in writing only, and are said to be judged by nothing', () => {
    const names = found([SAME[0], at('A-1', 10), at('007', 20.5)], [SAME[1], at('a1', 10.25), at('7', 20)]);
    expect(names).toEqual([
      { measured: 'A-1', known: 'a1', apartM: 0.25, isAlike: true },
      { measured: '007', known: '7', apartM: 0.5, isAlike: true },
    ]);
    expect(otherNameStatements(names, 'control')).toEqual([
      {
        what: 'control under another name',
        text: 'cannot be stated: A-1 is written a1, 007 is written 7; the names differ in writing only and nothing was compared: write them alike',
        verdict: 'not-stated',
        mend: 'Write the names that are named above alike in both files, and check again',
      },
    ]);
  });
  it('are found where they stand on control that was not measured by its name, which is told and judges nothing', () => {
    const names = found([SAME[0], at('N', 10.0625)], [SAME[1], at('C-9', 10)]);
    expect(names).toEqual([{ measured: 'N', known: 'C-9', apartM: 0.0625, isAlike: false }]);
    expect(otherNameStatements(names, 'control')).toEqual([
      {
        what: 'control under another name',
        text: 'not compared: N lies 0.063 m from C-9; where it is the same mark, write the names alike',
        verdict: 'information',
        mend: 'Where it is the same mark, write the names alike in both files',
      },
    ]);
  });
  it('judge nothing where names that are alike lie far apart', () => {
    const names = found([SAME[0], at('A-1', 10)], [SAME[1], at('a1', 45)]);
    expect(otherNameStatements(names, 'control').map(({ text, verdict }) => [text, verdict])).toEqual([
      ['not compared: A-1 lies 35 m from a1; where it is the same mark, write the names alike', 'information'],
    ]);
  });
  it('cannot be stated where a place is not known', () => {
    const names = found([SAME[0], at('A-1', null)], [SAME[1], at('a1', 45)]);
    expect(names.map(({ apartM }) => apartM)).toEqual([null]);
    expect(otherNameStatements(names, 'control').map(({ verdict }) => verdict)).toEqual(['not-stated']);
  });
  it.each([
    ['of other places', at('N', 10.25), at('C-9', 10)],
    ['measured by the name of the control too', at('n', 500.01), null],
    ['of role fit', at('a1', 10), at('A-1', 10, { role: 'fit' })],
  ])('are none where the points are %s', (_, measured, control) => {
    expect(found([SAME[0], measured], [SAME[1], ...(control === null ? [] : [control])])).toEqual([]);
  });
  it('are none where two of the control have names alike: which is meant is not known', () => {
    expect(found([SAME[0], at('A1', 10)], [SAME[1], at('A-1', 30), at('a 1', 50)])).toEqual([]);
  });
  it('are named with the nearest of several, each once, six at most', () => {
    const control = Array.from({ length: 8 }, (_, index) => at(`P${String(index)}`, 10 * index));
    const points = control.flatMap((row) => [1, 2].map(() => ({ ...row, pointId: row.pointId.toLowerCase() })));
    const [said] = otherNameStatements(found([SAME[0], ...points], [SAME[1], ...control]), 'control');
    expect(said?.text).toContain('p5 is written P5 and 2 more');
    expect(found([SAME[0], at('N', 10.05)], [SAME[1], at('C', 10), at('D', 10.07)]).map(({ known }) => known)).toEqual([
      'D',
    ]);
  });
  it('say of letters that look alike that their codes differ', () => {
    const [said] = otherNameStatements(found([SAME[0], at('\u00c44', 10)], [SAME[1], at('A\u03084', 10)]), 'control');
    expect(said?.text).toContain('in other codes of the same letters');
  });
  it('stand in the advice where no name is in the control', () => {
    const checked = checkControl([at('A-1', 10)], [at('a1', 10)], 'control.csv', PLAIN_CHECK);
    expect(checked.problems.map(({ hint }) => hint)).toEqual([expect.stringContaining('A-1 is written a1')]);
  });
});

describe('a design and repeats', () => {
  it('are searched for names written otherwise too', () => {
    const design = checkDesign([SAME[0], at('A-1', 10)], [SAME[1], at('a1', 10)], 'design.csv', PLAIN_CHECK);
    expect(design.ok && design.value.otherNames.map(({ known }) => known)).toEqual(['a1']);
    const none = checkDesign([at('A-1', 10)], [at('a1', 10)], 'design.csv', PLAIN_CHECK);
    expect(none.problems.map(({ hint }) => hint)).toEqual([expect.stringContaining('A-1 is written a1')]);
    const repeats = (points: readonly PointRow[], samePlaceM: number | null = null) =>
      checkRepeats(points, samePlaceM, 'points.csv', PLAIN_CHECK);
    const mixed = repeats([...SAME, at('a1', 10), at('A-1', 10.5), at('a_1', 12)]);
    expect(mixed.ok && mixed.value.otherNames).toEqual([{ measured: 'A-1', known: 'a1', apartM: 0.5, isAlike: true }]);
    expect(repeats([at('a1', 10), at('A-1', 10)]).problems.map(({ hint }) => hint)).toEqual([
      expect.stringContaining('A-1 is written a1'),
    ]);
  });
});
