import { describe, expect, it } from 'vitest';
import { occupationCauses } from '../../../../../src/core/quality/cause/hypotheses/occupation-causes.js';
import { causeContext, causePoint, formOf, formsOf, readOf } from './a-day.js';

const minutes = (count: number): number => 1_700_000_000_000 + count * 60_000;
/** Stands in the order C1, A, B, C2 of time, and A, B, C1, C2 in the file. */
const STANDS = [
  causePoint('A', { middleMs: minutes(10), poleLengthM: 2 }),
  causePoint('B', { middleMs: minutes(20), poleLengthM: 2.5 }),
  causePoint('C', { middleMs: minutes(0), occupation: '1' }),
  causePoint('C', { middleMs: minutes(30), occupation: '2' }),
];
/** A pattern over east, north, up of the four: the heights alone, or one value on each axis. */
const heights = (...up: readonly number[]): readonly number[] => up.flatMap((value) => [0, 0, value]);
const timed = causeContext(STANDS);
const untimed = causeContext(STANDS.map((point) => ({ ...point, middleMs: null })));
const columnsOf = (model: { readonly columns: readonly Float64Array[] }): readonly (readonly number[])[] =>
  model.columns.map((column) => [...column]);

describe('a pole of another length', () => {
  const poles = formsOf(occupationCauses(timed), 'pole-length');

  it('is sought at each stand, and, in the order of time, from each on and up to each', () => {
    expect(poles.map(({ subject }) => subject)).toEqual([
      'C@1',
      'A',
      'B',
      'C@2',
      'from A on',
      'up to C@1',
      'from B on',
      'up to A',
      'from C@2 on',
      'up to B',
    ]);
    expect(columnsOf(formOf(poles, 'B'))).toEqual([heights(0, 1, 0, 0)]);
    expect(columnsOf(formOf(poles, 'from B on'))).toEqual([heights(0, 1, 0, 1)]);
    expect(columnsOf(formOf(poles, 'up to A'))).toEqual([heights(1, 0, 1, 0)]);
  });

  it('keeps the order of the file among stands of one time', () => {
    const atOnce = causeContext(['A', 'B', 'C'].map((id) => causePoint(id, { middleMs: minutes(0) })));
    expect(
      formsOf(occupationCauses(atOnce), 'pole-length')
        .slice(0, 3)
        .map(({ subject }) => subject),
    ).toEqual(['A', 'B', 'C']);
  });

  it('was chosen from three forms a stand, and is of one stand where it moves one', () => {
    expect(new Set(poles.map(({ choices }) => choices))).toEqual(new Set([12]));
    expect(formOf(poles, 'B').stand).toEqual({ name: 'B', isOnlyOfPoint: true });
    expect(formOf(poles, 'C@2').stand).toEqual({ name: 'C@2', isOnlyOfPoint: false });
    expect(formOf(poles, 'from B on').stand).toBeNull();
    // One stand is left after it, and it moves that one alone.
    expect(formOf(poles, 'from C@2 on').stand).toEqual({ name: 'C@2', isOnlyOfPoint: false });
  });

  it('is at most 2.5 m, and says which step of poles it may be', () => {
    const [pole] = poles;
    if (pole === undefined) throw new Error('no form');
    expect(readOf(pole, [2.5])).toEqual({ too_high: 2.5 });
    expect(readOf(pole, [-2.51])).toBeNull();
    // The lengths logged are 2 and 2.5 m; other steps are whole tenths.
    expect(readOf(pole, [-0.495])).toEqual({ too_high: -0.495, a_usual_step_of_poles: -0.5 });
    expect(readOf(pole, [0.21])).toEqual({ too_high: 0.21, a_usual_step_of_poles: 0.2 });
    expect(readOf(pole, [0.25])).toEqual({ too_high: 0.25 });
  });

  it('has no before and after without times, and nothing of one stand or without heights', () => {
    expect(formsOf(occupationCauses(untimed), 'pole-length').map(({ subject }) => subject)).toEqual([
      'A',
      'B',
      'C@1',
      'C@2',
    ]);
    expect(formsOf(occupationCauses(causeContext(STANDS.slice(0, 1))), 'pole-length')).toEqual([]);
    const flat = causeContext(STANDS.map((point) => ({ ...point, upM: null })));
    expect(formsOf(occupationCauses(flat), 'pole-length')).toEqual([]);
  });
});

describe('a wrong initialisation', () => {
  const integers = formsOf(occupationCauses(timed), 'wrong-integer');

  it('is sought at each stand, and at runs of up to half of them in the order of time', () => {
    expect(integers.map(({ subject }) => subject)).toEqual([
      'C@1',
      'from C@1 to A',
      'A',
      'from A to B',
      'B',
      'from B to C@2',
      'C@2',
    ]);
    expect(columnsOf(formOf(integers, 'from A to B'))).toEqual([
      [1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0],
      [0, 1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0],
      [0, 0, 1, 0, 0, 1, 0, 0, 0, 0, 0, 0],
    ]);
    expect(formOf(integers, 'A').stand).toEqual({ name: 'A', isOnlyOfPoint: true });
    expect(formOf(integers, 'from A to B').stand).toBeNull();
  });

  it('gives half of the chance to single stands, half to runs', () => {
    // 1/(2n) for each of n stands; 1/(2n(longest − 1)) for each run, of which there are about n of each length.
    expect(formOf(integers, 'A').choices).toBe(8);
    expect(formOf(integers, 'from A to B').choices).toBe(8);
    const six = causeContext([0, 1, 2, 3, 4, 5].map((i) => causePoint(`P${String(i)}`, { middleMs: minutes(i) })));
    const forms = formsOf(occupationCauses(six), 'wrong-integer');
    expect(formOf(forms, 'P2').choices).toBe(12);
    expect(formOf(forms, 'from P2 to P4').choices).toBe(24);
    expect(forms.filter(({ stand }) => stand === null)).toHaveLength(5 + 4);
    expect(formsOf(occupationCauses(untimed), 'wrong-integer').map(({ choices }) => choices)).toEqual([4, 4, 4, 4]);
  });

  it('spoils twenty stands at most, all from one base', () => {
    const many = Array.from({ length: 44 }, (_, i) =>
      causePoint(`P${String(i)}`, { middleMs: minutes(i), baseId: i < 30 ? 'one' : 'two' }),
    );
    const runs = formsOf(occupationCauses(causeContext(many)), 'wrong-integer').map(({ subject }) => subject);
    expect(runs).toContain('from P0 to P19');
    expect(runs).not.toContain('from P0 to P20');
    expect(runs).toContain('from P20 to P29');
    expect(runs).not.toContain('from P20 to P30');
    expect(runs).toContain('from P30 to P43');
  });

  it('is at most 5 m in all, named by axis', () => {
    const form = formOf(integers, 'A');
    expect(readOf(form, [3, 4, 0])).toEqual({ east: 3, north: 4, up: 0 });
    expect(readOf(form, [3, 4, 0.1])).toBeNull();
    expect(readOf(form, [-2.9, 2.9, 2.9])).toBeNull();
  });

  it('needs two axes and two stands', () => {
    const plan = causeContext(STANDS.map((point) => ({ ...point, upM: null })));
    const form = formOf(formsOf(occupationCauses(plan), 'wrong-integer'), 'A');
    expect(form.columns).toHaveLength(2);
    expect(readOf(form, [0.2, 0.1])).toEqual({ east: 0.2, north: 0.1 });
    expect(formsOf(occupationCauses(causeContext(STANDS.slice(0, 1))), 'wrong-integer')).toEqual([]);
    const high = causeContext(STANDS.map((point) => ({ ...point, eastM: null, northM: null })));
    expect(formsOf(occupationCauses(high), 'wrong-integer')).toEqual([]);
  });
});

describe('another point than the one named', () => {
  const at = (pointId: string, first: number, second: number, height: number | null, residual: readonly number[]) =>
    causePoint(pointId, {
      knownFirstM: first,
      knownSecondM: second,
      knownHeightM: height,
      eastM: residual[0] ?? null,
      northM: residual[1] ?? null,
    });
  // B lies 30 m east, 40 m north and 2 m above A, and A was measured at B.
  const points = [at('A', 100, 200, 50, [30.01, 39.99]), at('B', 130, 240, 52, [0, 0]), at('C', 900, 900, 9, [0, 0])];
  const forms = formsOf(occupationCauses(causeContext(points)), 'misidentified');

  it('is the control that the measurement lies near: its place less the one named', () => {
    expect(forms.map(({ subject }) => subject)).toEqual(['A is B']);
    expect([...(forms[0]?.fixed ?? [])]).toEqual([30, 40, 2, 0, 0, 0, 0, 0, 0]);
    expect(readOf(formOf(forms, 'A is B'), [])).toEqual({ apart: 50 });
    expect(forms[0]?.choices).toBe(3 * 2);
  });

  it('lies nearer than half of the way between the two', () => {
    const near = (east: number): readonly string[] =>
      formsOf(
        occupationCauses(causeContext([at('A', 0, 0, null, [east, 0]), at('B', 10, 0, null, [0, 0])])),
        'misidentified',
      ).map(({ subject }) => subject);
    expect(near(5.01)).toEqual(['A is B']);
    expect(near(4.99)).toEqual([]);
    expect(near(14.99)).toEqual(['A is B']);
    expect(near(15.01)).toEqual([]);
  });

  it('turns with axes that point west and south, and takes a height that is not known for no difference', () => {
    const west = causeContext([at('A', 100, 200, null, [-30, -40]), at('B', 130, 240, 52, [0, 0])], {
      axisSigns: [-1, -1],
    });
    const [form] = formsOf(occupationCauses(west), 'misidentified');
    expect([...(form?.fixed ?? [])]).toEqual([-30, -40, 52, 0, 0, 0]);
  });
});
