import { describe, expect, it } from 'vitest';
import { diagonalCovariance } from '../../../src/core/observation/uncertainty/local-covariance.js';
import type { LimitVerdict } from '../../../src/core/quality/standards/limit-verdict.js';
import { checkOf, NEED, worseOf } from '../../../src/tasks/check/report-check.js';
import type { Worst } from '../../../src/tasks/check/report-check.js';
import { checkCoverage } from '../../../src/tasks/check/compare/check-tolerances-coverage.js';
import { inputDoubts, withInputVerdict } from '../../../src/tasks/check/judge/check-tolerances-input-verdict.js';
import type { CheckRow } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import { classStatements, pointClass } from '../../../src/tasks/check/judge/check-tolerances-classes.js';
import { isoStatements } from '../../../src/tasks/check/judge/iso-statements.js';
import { pointRow } from '../../support/check-setup.js';

const limit = (axis: '2d' | 'up', limitM: number, verdict: LimitVerdict['verdict'] = 'within'): LimitVerdict => ({
  ...{ limitName: 'invented', axis, probability: null, valueM: 0, limitM, marginM: 0, governedBy: null, verdict },
});
const rowOf = (part: object): CheckRow =>
  ({
    ...{ check: 'control', pointId: 'A', occupation: '1', against: 'control', firstM: 0.5, secondM: 0, upM: 0.25 },
    ...{ horizontalStatistic: null, verticalStatistic: null, limits: [], verdict: 'within', reasons: [] },
    ...{ distanceM: null, separationS: null, measured: null, known: null, covariance: null, vector: null },
    ...part,
  }) as unknown as CheckRow;

describe('a comparison as a page shows it', () => {
  const at = (firstM: number | null, secondM: number | null): object => ({ firstM, secondM });
  it.each([
    ['the known place', at(1, 2), at(3, 4), { first: 1, second: 2 }],
    ['the measured one where nothing is known', null, at(3, 4), { first: 3, second: 4 }],
    ['the measured one where the known has no first', at(null, 2), at(3, 4), { first: 3, second: 4 }],
    ['none where the known has no second', at(1, null), at(3, 4), null],
    ['none where neither has one', at(null, null), at(null, 4), null],
    ['none of nothing', null, null, null],
  ])('stands at %s', (_, known, measured, place) => {
    expect(checkOf(rowOf({ known, measured })).place).toEqual(place);
  });

  it.each([
    [5.991464547107979, 1.959963984540054, false, false],
    [5.9915, 1.95, true, false],
    [5.99, 1.96, false, true],
    [null, 1.97, false, true],
    [6, null, true, false],
  ])('exceeds by statistics of %s and %s: beyond 95 %%, not at it', (plan, height, isPlan, isHeight) => {
    const row = rowOf({
      ...{ horizontalStatistic: plan, verticalStatistic: height, verdict: 'exceeds' },
      reasons: ['check-repeat-noise'],
    });
    // Where neither is beyond, both are said to be.
    const expected = isPlan || isHeight ? { plan: isPlan, height: isHeight } : { plan: true, height: true };
    expect(checkOf(row).exceeds).toEqual(expected);
  });

  it('has statistics and figures only where they are numbers', () => {
    const shown = (part: object) => checkOf(rowOf(part));
    expect(shown({ horizontalStatistic: Infinity, verticalStatistic: NaN })).toMatchObject({
      horizontalStatistic: null,
      verticalStatistic: null,
    });
    expect(shown({ horizontalStatistic: 2, verticalStatistic: 0 })).toMatchObject({
      horizontalStatistic: 2,
      verticalStatistic: 0,
    });
    expect(shown({})).toMatchObject({ circle95M: null, vertical95M: null });
    expect(shown({ covariance: diagonalCovariance(0, 0, 0) })).toMatchObject({ circle95M: null, vertical95M: null });
    const { circle95M, vertical95M } = shown({ covariance: diagonalCovariance(1e-4, 1e-4, 1e-4) });
    // FGDC-STD-007: 2.4477 sigma for a circle, 1.9600 in height.
    expect([circle95M, vertical95M]).toEqual([expect.closeTo(0.024477, 5), expect.closeTo(0.0196, 5)]);
    const one = shown({ covariance: diagonalCovariance(0, 0, 1e-4) });
    expect([one.circle95M, one.vertical95M]).toEqual([null, expect.closeTo(0.0196, 5)]);
  });

  it('is needed the more the worse it is', () => {
    expect(NEED).toEqual({ within: 0, review: 1, 'not-stated': 1, exceeds: 2 });
  });
});

describe('the worst of two comparisons', () => {
  const worst = (...rows: readonly CheckRow[]): Worst => rows.reduce(worseOf, { plan: null, height: null });
  const named = (pointId: string, part: object): CheckRow => rowOf({ pointId, ...part });
  it.each([
    ['the first of two alike', named('one', {}), named('two', {}), 'one', 'one'],
    ['the larger', named('one', {}), named('two', { firstM: 0.6, upM: -0.3 }), 'two', 'two'],
    ['that with a limit', named('one', { limits: [limit('2d', 9)] }), named('two', { firstM: 5 }), 'one', 'one'],
    [
      'that with the larger share',
      named('one', { limits: [limit('2d', 1), limit('up', 1)] }),
      named('two', { limits: [limit('2d', 0.9), limit('up', 2)], upM: 0.4 }),
      'two',
      'one',
    ],
    [
      'no share of a limit of nothing',
      named('one', { limits: [limit('2d', 0)] }),
      named('two', { firstM: 0.6 }),
      'two',
      'one',
    ],
    ['what was compared', named('one', { secondM: null, upM: null }), named('two', {}), 'two', 'two'],
  ])('is %s', (_, one, two, plan, height) => {
    const found = worst(one, two);
    expect([found.plan?.pointId, found.height?.pointId]).toEqual([plan, height]);
  });
});

describe('what the reduction said of a point', () => {
  const placed = (verdict: string, reasons = ''): object => ({ row: pointRow({ verdict, reasons }) });
  it.each([
    ['control', 'rejected', '', 'within', 'exceeds'],
    ['control', 'rejected', '', 'not-stated', 'not-stated'],
    ['control', 'review', '', 'within', 'review'],
    ['control', 'review', '', 'exceeds', 'exceeds'],
    ['control', 'accepted', 'rejected', 'within', 'within'],
    ['repeat', 'accepted', 'rejected', 'within', 'exceeds'],
    ['base-pair', 'accepted', 'review', 'within', 'review'],
    ['design', 'accepted', 'review', 'within', 'within'],
  ])('in a %s: %s against %s makes %s %s', (check, measured, known, verdict, expected) => {
    const row = rowOf({ check, verdict, measured: placed(measured), known: placed(known) });
    expect(withInputVerdict(row).verdict).toBe(expected);
  });

  it('is counted, and named once each', () => {
    const points = [
      pointRow({ pointId: 'A', verdict: 'rejected' }),
      pointRow({ pointId: 'B', verdict: 'review' }),
      pointRow({ pointId: 'B', verdict: 'review', reasons: 'network-unchecked' }),
      pointRow({ pointId: 'C', verdict: 'accepted', reasons: 'network-unchecked' }),
      pointRow({ pointId: 'D', verdict: '' }),
    ];
    expect(inputDoubts(points)).toEqual({
      rejected: 1,
      review: 2,
      unchecked: 1,
      rejectedIds: ['A'],
      reviewIds: ['B'],
    });
    expect(inputDoubts([])).toEqual({ rejected: 0, review: 0, unchecked: 0, rejectedIds: [], reviewIds: [] });
  });
});

describe('what was compared', () => {
  const row = (firstM: number | null, secondM: number | null, upM: number | null): CheckRow =>
    rowOf({ firstM, secondM, upM });
  const rules = [{ axis: '2d' }, { axis: 'up' }] as never;
  const said = (rows: readonly CheckRow[], of = rules) => {
    const { line, statements } = checkCoverage(rows, 'control', of);
    return [line, statements.map(({ what }) => what)];
  };
  const counts = (plan: number, height: number, own: number): string =>
    `  compared in plan ${String(plan)} of ${String(own)}, in height ${String(height)} of ${String(own)}`;
  it.each([
    [[row(1, 1, 1), row(2, 2, 2)], rules, [null, []]],
    [[row(1, 1, 1), row(2, 2, null)], rules, [counts(2, 1, 2), []]],
    [[row(1, null, 1), row(null, 2, 2)], rules, [counts(0, 2, 2), ['control, limit in plan']]],
    [[row(1, 1, null)], rules, [counts(1, 0, 1), ['control, limit in height']]],
    [[row(1, null, null)], rules, [counts(0, 0, 1), ['control, limit in plan', 'control, limit in height']]],
    [[row(1, null, null)], [{ axis: 'up' }] as never, [counts(0, 0, 1), ['control, limit in height']]],
    [[row(1, null, null)], [{ axis: '2d' }] as never, [counts(0, 0, 1), ['control, limit in plan']]],
    [[row(1, 1, null), rowOf({ check: 'repeat', upM: null })], rules, [counts(1, 0, 1), ['control, limit in height']]],
  ])('is said, and what no limit can be held against', (rows, of, expected) => {
    expect(said(rows, of)).toEqual(expected);
  });
});

describe('the class of a point', () => {
  const of = (sigma: number, up = sigma, change: object = {}) =>
    pointClass(pointRow({ sigmaEastM: sigma, sigmaNorthM: sigma, sigmaUpM: up, ...change }));
  // FGDC-STD-007.2, table 2.1: classes of 1, 2, 5 mm and so on to 10 m; 2.4477 sigma make the figure in plan, 1.96 that in height.
  it.each([
    [0.0004, '1-millimetre', '1-millimetre'],
    [0.002, '5-millimetre', '5-millimetre'],
    [0.0045, '2-centimetre', '1-centimetre'],
    [0.02, '5-centimetre', '5-centimetre'],
    [0.03, '1-decimetre', '1-decimetre'],
    [0.3, '1-metre', '1-metre'],
    [0.2, '5-decimetre', '5-decimetre'],
    [3, '10-metre', '10-metre'],
    [6, 'beyond 10 m', 'beyond 10 m'],
  ])('of sigmas of %s m is %s in plan and %s in height', (sigma, horizontal, vertical) => {
    expect(of(sigma)).toMatchObject({ horizontal, vertical });
  });

  it('is not stated where one sigma is missing, and says which height it is of', () => {
    for (const missing of ['sigmaEastM', 'sigmaNorthM', 'sigmaUpM'])
      expect(of(0.01, 0.01, { [missing]: null })).toMatchObject({ circle95M: null, horizontal: '', vertical: '' });
    expect(of(1).height).toBe('no height given');
    expect(of(1, 1, { orthometricHeightM: 0 }).height).toBe('orthometric height');
    expect(of(1, 1, { orthometricHeightM: 0, ellipsoidalHeightM: 0 }).height).toBe('ellipsoidal height');
  });

  it('is counted class by class', () => {
    const known = pointRow({ sigmaEastM: 0.02, sigmaNorthM: 0.02, sigmaUpM: 0.02 });
    expect(classStatements([known, pointRow({}), known]).map(({ text }) => text)).toEqual([
      '5-centimetre horizontal, 5-centimetre no height given: 2 points',
      'cannot be stated for 1 points: they give no sigmas',
    ]);
    expect(classStatements([known]).map(({ text }) => text)).toEqual([
      '5-centimetre horizontal, 5-centimetre no height given: 1 point',
    ]);
  });
});

// ISO 17123-8: the rover points stand 2 m to 20 m apart.
it.each([
  [1.999, true],
  [2, false],
  [20, false],
  [20.001, true],
])('rover points %s m apart are of the field procedure, or not', (distanceM, isSaid) => {
  const screen = { sets: [], distanceLimitM: 0.01, heightLimitM: 0.01 };
  const result = { screen, nominal: { distanceM }, setsMissing: 0, precision: null, tests: [] };
  const texts = isoStatements(result as never).filter(({ what }) => what === 'distance of the rover points');
  expect(texts.map(({ text }) => text)).toEqual(
    isSaid ? [`${distanceM.toFixed(3)} m; the procedure is for 2 m to 20 m, and for others cannot be stated`] : [],
  );
});
