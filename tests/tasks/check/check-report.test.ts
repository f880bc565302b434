import { describe, expect, it } from 'vitest';
import { CAUSE_TEXTS } from '../../../src/core/quality/cause/cause-ids.js';
import type { LimitVerdict } from '../../../src/core/quality/standards/limit-verdict.js';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';
import type { CheckReport } from '../../../src/records/reports/check-report.js';
import { checkReport } from '../../../src/tasks/check/check-report.js';
import type { CheckResults } from '../../../src/tasks/check/check-report.js';
import type { CheckRow } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import { tightest } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import { PLAIN_CHECK, placedRow } from '../../support/check-setup.js';
import { valueOf } from '../../support/shift-of-row.js';

const limit = (
  axis: '2d' | '1d' | 'up',
  limitM: number | null,
  marginM: number | null,
  verdict = 'within',
): LimitVerdict =>
  ({ limitName: axis, axis, valueM: 0, limitM, marginM, governedBy: 'constant', verdict }) as unknown as LimitVerdict;
const row = (pointId: string, own: Partial<CheckRow> = {}): CheckRow => ({
  check: 'control',
  pointId,
  occupation: '',
  against: 'K',
  firstM: 0.003,
  secondM: 0.004,
  upM: 0.01,
  heightKind: 'ellipsoidal',
  alongM: null,
  acrossM: null,
  distanceM: null,
  chainageM: null,
  separationS: null,
  horizontalStatistic: null,
  verticalStatistic: null,
  limits: [],
  verdict: 'within',
  reasons: [],
  measured: placedRow({ gridFirst: 1, gridSecond: 2, baseId: 'B1' }),
  known: placedRow({ gridFirst: 1, gridSecond: 2 }),
  covariance: null,
  vector: null,
  ...own,
});
const report = (own: Partial<CheckResults> = {}): CheckReport =>
  checkReport(
    {
      rows: [],
      setup: PLAIN_CHECK,
      summary: null,
      statements: [],
      search: null,
      groups: [],
      day: null,
      dayLines: [],
      inputDoubts: [],
      screen: null,
      fixes: null,
      ...own,
    } as CheckResults,
    {} as never,
  );

describe('the comparisons of the page of a check', () => {
  it('are counted by their verdicts, and two thousand kept, those that exceed before others', () => {
    const many = Array.from({ length: 2000 }, (_, index) => row(`P${String(index)}`));
    const made = report({
      rows: [
        ...many,
        row('R', { verdict: 'review' }),
        row('N', { verdict: 'not-stated' }),
        row('X', { verdict: 'exceeds' }),
      ],
    });
    expect(made.checks).toHaveLength(2000);
    expect(made.checks.at(-1)?.pointId).toBe('X');
    expect(made).toMatchObject({ checkCount: 2003, exceedCount: 1, withinCount: 2000, reviewCount: 1 });
  });

  it('have as worst the largest share of a limit, and of those without a limit the farthest', () => {
    const worst = (...rows: readonly CheckRow[]): unknown => {
      const { plan, height } = report({ rows }).worst;
      return [plan?.pointId ?? null, height?.pointId ?? null];
    };
    expect(worst()).toEqual([null, null]);
    expect(worst(row('A'), row('B', { firstM: 0.03, upM: -0.02 }), row('C', { firstM: 0.02 }))).toEqual(['B', 'B']);
    // 5 mm of 10 mm is more than 50 mm of 200 mm; in height 10 mm of 40 mm is less than 10 mm of 20 mm.
    expect(
      worst(
        row('A', { firstM: 0.03, secondM: 0.04, limits: [limit('2d', 0.2, 0.15), limit('up', 0.04, 0.03)] }),
        row('B', { limits: [limit('2d', 0.01, 0.005), limit('up', 0.02, 0.01)] }),
      ),
    ).toEqual(['B', 'B']);
    expect(worst(row('A', { firstM: null, upM: null }), row('B', { secondM: null, upM: 0.001 }))).toEqual([null, 'B']);
  });
});

describe('the tightest limit of a comparison', () => {
  it('is that with the least margin of its axis; one that needs a distance has the most', () => {
    const of = (...limits: readonly LimitVerdict[]) => row('A', { limits });
    const both = of(limit('2d', 1, 0.5), limit('1d', 2, 0.2), limit('up', 3, 0.1), limit('up', 4, 0.3));
    expect(tightest(both, 'horizontal')?.limitM).toBe(2);
    expect(tightest(both, 'up')?.limitM).toBe(3);
    expect(tightest(of(limit('2d', 1, null), limit('1d', 2, 0.5)), 'horizontal')?.limitM).toBe(2);
    expect(tightest(of(limit('2d', 1, null)), 'horizontal')?.limitM).toBe(1);
    expect(tightest(of(limit('2d', 1, 0.5)), 'up')).toBeNull();
    // Of two that leave as much the first.
    expect(tightest(of(limit('up', 1, 0.5), limit('up', 2, 0.5)), 'up')?.limitM).toBe(1);
  });
});

describe('the plan of the page of a check', () => {
  const base = (id: string, longitudeDeg: number): object => ({
    settings: { id },
    origin: { geodetic: { latitudeDeg: 0, longitudeDeg, ellipsoidalHeightM: 0 } },
  });
  const grid = valueOf(loadGridSystem('EPSG:25832'));
  const bases = [base('B1', 9), base('B2', 9.5), base('B3', 10)] as never;
  const drawn = (setup: Partial<CheckResults['setup']>, ...ids: readonly (string | null)[]): unknown =>
    report({
      setup: { ...PLAIN_CHECK, bases, ...setup },
      rows: ids.map((baseId) => row('A', { measured: placedRow({ gridFirst: 1, gridSecond: 2, baseId }) })),
    }).bases.map(({ id, place }) => [id, place]);

  it('has the bases that the points were measured from, and all where no point says from which', () => {
    const at = expect.anything() as unknown;
    expect(drawn({ grid }, 'B1', 'B3')).toEqual([
      ['B1', { first: expect.closeTo(500_000, 6) as number, second: expect.closeTo(0, 6) as number }],
      ['B3', at],
    ]);
    // A point that was joined of several says all of them.
    expect(drawn({ grid }, 'B1+B2')).toEqual([
      ['B1', at],
      ['B2', at],
    ]);
    expect(drawn({ grid }, null)).toHaveLength(3);
    expect(drawn({ grid: null }, 'B1')).toEqual([['B1', null]]);
    const feet = { grid, axes: { ...PLAIN_CHECK.axes, metresPerUnit: 0.5 } };
    expect(drawn(feet, 'B1')).toEqual([
      ['B1', { first: expect.closeTo(250_000, 6) as number, second: expect.closeTo(0, 6) as number }],
    ]);
  });

  it('names its axes in metres, whichever way they count', () => {
    const axes = (signs: readonly [1 | -1, 1 | -1]): unknown =>
      report({ setup: { ...PLAIN_CHECK, axes: { ...PLAIN_CHECK.axes, signs, first: 'y', second: 'x' } } }).axes.map(
        ({ columnName, direction, abbreviation }) => [columnName, direction, abbreviation],
      );
    expect(axes([1, 1])).toEqual([
      ['y_m', 'east', 'y'],
      ['x_m', 'north', 'x'],
    ]);
    expect(axes([-1, -1])).toEqual([
      ['y_m', 'west', 'y'],
      ['x_m', 'south', 'x'],
    ]);
    expect(report({ setup: { ...PLAIN_CHECK, grid } })).toMatchObject({
      systemName: expect.stringContaining('25832') as string,
      axes: [{ abbreviation: 'E' }, { abbreviation: 'N' }],
    });
    expect(report().systemName).toBeNull();
  });
});

describe('the statistics of the page of a check', () => {
  const sample = (count: number, rmse: number): object => ({
    count,
    mean: 0.001,
    standardDeviation: 0.002,
    rmse,
    rmseLow95: 0.1,
    rmseHigh95: 0.2,
    isBiased: false,
  });
  const of = (first: object | null, second: object | null, up: object | null = null): CheckReport =>
    report({ summary: { first, second, up } as unknown as CheckResults['summary'] });

  it('are of the axes that were compared', () => {
    expect(
      of(sample(5, 0.01), null, sample(7, 0.03)).statistics.map(({ axis, count, rmseM }) => [axis, count, rmseM]),
    ).toEqual([
      ['easting', 5, 0.01],
      ['height', 7, 0.03],
    ]);
    expect(report().statistics).toEqual([]);
  });

  it('have a 95 % circle from twenty residuals on, stated where the standard states it', () => {
    // FGDC-STD-007.3-1998: 2.4477 times half of the sum of both, here of 1 and 1 cm.
    expect(of(sample(20, 0.01), sample(25, 0.01)).circle95).toMatchObject({
      radiusM: expect.closeTo(0.024477, 5) as number,
      count: 20,
      isStated: true,
    });
    // Axes that differ by more than two fifths have no circle of the standard: √((3² + 1²)/2) cm, for the eye.
    expect(of(sample(20, 0.03), sample(20, 0.01)).circle95).toMatchObject({
      radiusM: expect.closeTo(2.4477 * Math.sqrt(5) * 0.01, 5) as number,
      isStated: false,
    });
    expect(of(sample(19, 0.01), sample(25, 0.01)).circle95).toBeNull();
    expect(of(sample(25, 0.01), sample(19, 0.01)).circle95).toBeNull();
    expect(of(sample(20, 0.01), null).circle95).toBeNull();
    expect(of(null, sample(20, 0.01)).circle95).toBeNull();
  });

  it('have the sets of a field procedure by series and set', () => {
    const screen = {
      distanceLimitM: 0.01,
      heightLimitM: 0.02,
      sets: [{ series: 1, set: 3, distanceErrorM: 0.004, heightErrorM: -0.005 }],
    };
    expect(report({ screen: screen as never }).sets).toEqual({
      distanceLimitM: 0.01,
      heightLimitM: 0.02,
      rows: [{ name: '1.3', distanceErrorM: 0.004, heightErrorM: -0.005 }],
    });
    expect(report().sets).toBeNull();
  });
});

describe('the likely causes of the page of a check', () => {
  const finding = (cause: string, own: object = {}): object => ({
    cause,
    subject: null,
    estimates: [],
    rmsAfterM: 0.01,
    gain: 0.9,
    explains: true,
    ...own,
  });
  const [one = '', two = '', three = '', four = '', five = ''] = Object.keys(CAUSE_TEXTS);
  const causes = (own: object): NonNullable<CheckReport['causes']> => {
    const made = report({
      search: {
        report: { verdict: 'named', rmsBeforeM: 0.1, findings: [], alike: [], together: [], thenSingles: [], ...own },
      } as unknown as CheckResults['search'],
    }).causes;
    if (made === null) throw new Error('no causes');
    return made;
  };
  const titles = (list: readonly { readonly title: string }[]): readonly string[] => list.map(({ title }) => title);
  const titleOf = (id: string): string => CAUSE_TEXTS[id as keyof typeof CAUSE_TEXTS].title;

  it('are the three that explain most, or all that are tied', () => {
    const findings = [finding(one), finding(two, { explains: false }), finding(three), finding(four), finding(five)];
    expect(titles(causes({ findings }).causes)).toEqual([one, three, four].map(titleOf));
    const tied = causes({ findings, alike: [three, four, five] });
    expect(titles(tied.causes)).toEqual([one, three, four, five].map(titleOf));
    expect(tied.causes.map(({ isTied }) => isTied)).toEqual([true, true, true, true]);
    expect(causes({ findings, alike: [four] }).causes.map(({ isTied }) => isTied)).toEqual([true, false, true]);
    expect(causes({ findings }).causes.some(({ isTied }) => isTied)).toBe(false);
  });

  it('are none but the nearest where no single one is named', () => {
    const made = causes({ verdict: 'no-single-cause', findings: [finding(one)] });
    expect(made.causes).toEqual([]);
    expect(made.nearest?.title).toBe(titleOf(one));
    expect(causes({ findings: [finding(one)] }).nearest).toBeNull();
    expect(causes({ verdict: 'no-single-cause' }).nearest).toBeNull();
  });

  it('have estimates with 1.96 sigmas to either side, in decimals of their unit', () => {
    const estimate = (unit: string, sigma: number | null): object => ({ name: 'pole_length', value: 2, sigma, unit });
    const [made] = causes({
      findings: [
        finding(one, { estimates: ['m', 'ppm', 'years', 'deg', 'times', ''].map((unit) => estimate(unit, 0.5)) }),
      ],
    }).causes;
    expect(made?.estimates.map(({ name, halfWidth95, decimals }) => [name, halfWidth95, decimals])).toEqual([
      ['pole length', 0.98, 3],
      ['pole length', 0.98, 1],
      ['pole length', 0.98, 1],
      ['pole length', 0.98, 1],
      ['pole length', 0.98, 2],
      ['pole length', 0.98, 6],
    ]);
    const [unknown] = causes({ findings: [finding(one, { estimates: [estimate('m', null)] })] }).causes;
    expect(unknown?.estimates[0]?.halfWidth95).toBeNull();
  });

  it('may be several together, each with what it could be instead, and single points beside them', () => {
    const made = causes({
      together: [{ finding: finding(one), alike: [two, three] }],
      thenSingles: [finding(four, { explains: false }), finding(five)],
    });
    expect(made.together.map(({ title, or }) => [title, or])).toEqual([[titleOf(one), [two, three].map(titleOf)]]);
    expect(titles(made.singles)).toEqual([four, five].map(titleOf));
    expect(made.areSinglesEnough).toBe(true);
    expect(causes({ thenSingles: [finding(four, { explains: false })] }).areSinglesEnough).toBe(false);
    expect(causes({}).areSinglesEnough).toBe(false);
  });

  it('are said of repeats that disagree with the size of the difference', () => {
    const group = (cause: object | null): object => ({ pointId: 'A', cause, odd: null });
    const made = report({
      groups: [group(null), group({ cause: one, difference: { eastM: 0.3, northM: -0.4, upM: -0.1 } })] as never,
    });
    expect(made.repeatCauses).toMatchObject([
      { pointId: 'A', title: titleOf(one), planM: expect.closeTo(0.5, 9) as number, upM: -0.1 },
    ]);
  });
});
