import { describe, expect, it } from 'vitest';
import { controlCauses } from '../../../../../src/core/quality/cause/hypotheses/control-causes.js';
import { causeContext, causePoint, formOf, formsOf, readOf } from './a-day.js';

const at = (pointId: string, first: number, second: number, residual: readonly number[], occupation = '') =>
  causePoint(pointId, {
    occupation,
    knownFirstM: first,
    knownSecondM: second,
    knownHeightM: first / 10,
    eastM: residual[0] ?? null,
    northM: residual[1] ?? null,
  });

describe('a wrong coordinate of one control point', () => {
  const context = causeContext([
    causePoint('A', { occupation: '1' }),
    causePoint('B'),
    causePoint('A', { occupation: '2' }),
  ]);
  const forms = formsOf(controlCauses(context), 'control-coordinate');

  it('moves all stands of the point: in plan, in height or in both', () => {
    expect(forms.map(({ subject, columns }) => [subject, columns.length])).toEqual([
      ['A', 2],
      ['A', 1],
      ['A', 3],
      ['B', 2],
      ['B', 1],
      ['B', 3],
    ]);
    expect([...(forms[0]?.columns[1] ?? [])]).toEqual([0, 1, 0, 0, 0, 0, 0, 1, 0]);
    expect([...(forms[1]?.columns[0] ?? [])]).toEqual([0, 0, 1, 0, 0, 0, 0, 0, 1]);
    expect(forms[2]?.columns.map((column) => [...column].indexOf(1))).toEqual([0, 1, 2]);
    // Three parts of each of two points.
    expect(new Set(forms.map(({ choices }) => choices))).toEqual(new Set([6]));
  });

  it('is one stand where the point has one, and of any size', () => {
    expect(forms[0]?.stand).toBeNull();
    expect(forms[3]?.stand).toEqual({ name: 'B', isOnlyOfPoint: true });
    expect(forms[1]?.read([7], [0.1])).toEqual([{ name: 'up', value: 7, sigma: 0.1, unit: 'm' }]);
    expect(forms[2]?.read([1, 2, 3], [0.1, 0.2, 0.3])?.map(({ name, sigma }) => [name, sigma])).toEqual([
      ['east', 0.1],
      ['north', 0.2],
      ['up', 0.3],
    ]);
  });

  it('cannot be told from everything else where there is one point, and has no height where none is compared', () => {
    expect(controlCauses(causeContext([causePoint('A', { occupation: '1' }), causePoint('A')]))).toEqual([]);
    const plan = controlCauses(causeContext([causePoint('A', { upM: null }), causePoint('B', { upM: null })]));
    expect(plan.map(({ columns }) => columns.length)).toEqual([2, 2]);
  });
});

describe('two names exchanged', () => {
  // From A to B: 30 east, 40 north, 3 up.
  const exchanged = [at('A', 100, 200, [30, 40]), at('B', 130, 240, [-30, -40]), at('C', 0, 0, [0, 0])];

  it('puts the way between the points on one and takes it off the other', () => {
    const [form, ...others] = formsOf(controlCauses(causeContext(exchanged)), 'names-exchanged');
    expect(others).toEqual([]);
    expect(form?.subject).toBe('A and B');
    expect([...(form?.fixed ?? [])]).toEqual([30, 40, 3, -30, -40, -3, 0, 0, 0]);
    // Two kinds of exchange, of three pairs of points.
    expect(form?.choices).toBe(6);
    expect(form === undefined ? null : readOf(form, [])).toEqual({ apart: 50 });
  });

  it('turns with axes that point west and south', () => {
    const turned = exchanged.map((point) => ({ ...point, eastM: -(point.eastM ?? 0), northM: -(point.northM ?? 0) }));
    const [form] = formsOf(controlCauses(causeContext(turned, { axisSigns: [-1, -1] })), 'names-exchanged');
    expect([...(form?.fixed ?? [])]).toEqual([-30, -40, 3, 30, 40, -3, 0, 0, 0]);
  });

  it.each([
    [[15.1, 20], [-30, -40], 1],
    [[14.9, 20], [-30, -40], 0],
    [[30, 40], [-15.1, -20], 1],
    [[30, 40], [-14.9, -20], 0],
    [[30, 40], [30, 40], 0],
    [[null, 40], [-30, -40], 0],
  ] as const)('needs both residuals within half of the way: %j and %j', (first, second, count) => {
    const points = [
      { ...at('A', 100, 200, []), eastM: first[0], northM: first[1] },
      { ...at('B', 130, 240, []), eastM: second[0], northM: second[1] },
    ];
    expect(formsOf(controlCauses(causeContext(points)), 'names-exchanged')).toHaveLength(count);
  });

  it('is of all stands of both points, or of one stand each where a point has several', () => {
    const points = [at('A', 100, 200, [30, 40], '1'), at('A', 100, 200, [0, 0], '2'), at('B', 130, 240, [-30, -40])];
    const forms = formsOf(controlCauses(causeContext(points)), 'names-exchanged');
    expect(forms.map(({ subject }) => subject)).toEqual(['A@1 and B']);
    expect([...(forms[0]?.fixed ?? [])]).toEqual([30, 40, 3, 0, 0, 0, -30, -40, -3]);
    // Ordered pairs of three stands.
    expect(forms[0]?.choices).toBe(6);
    const both = points.map((point) => (point.occupation === '2' ? { ...point, eastM: 30, northM: 40 } : point));
    expect(formsOf(controlCauses(causeContext(both)), 'names-exchanged').map(({ subject }) => subject)).toEqual([
      'A and B',
      'A@1 and B',
      'A@2 and B',
    ]);
    expect(formOf(formsOf(controlCauses(causeContext(both)), 'names-exchanged'), 'A and B').choices).toBe(2);
  });

  it('is not looked for without known places', () => {
    expect(formsOf(controlCauses(causeContext([causePoint('A'), causePoint('B')])), 'names-exchanged')).toEqual([]);
  });
});
