import { describe, expect, it } from 'vitest';
import type { Caution } from '../../../src/core/planning/caution.js';
import type { PlanPoint } from '../../../src/core/planning/plan-point.js';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';
import type { PlanReport } from '../../../src/records/reports/plan-report.js';
import { locateRows } from '../../../src/tasks/plan/targets/locate-rows.js';
import { planCautions, siteCautions } from '../../../src/tasks/plan/plan-cautions.js';
import { createPlanTotals } from '../../../src/tasks/plan/plan-totals.js';
import type { PlannedTarget } from '../../../src/tasks/plan/targets/predict-targets.js';
import { curvesOf } from '../../../src/tasks/plan/report/plan-lines.js';
import { createPlanReportCollector } from '../../../src/tasks/plan/report/plan-report.js';
import type { PlanResults } from '../../../src/tasks/plan/report/plan-report.js';
import { pointRow } from '../../support/check-setup.js';
import { valueOf } from '../../support/shift-of-row.js';
import { candidate, choice, geodesic, setupOf, target } from './plan-fixture.js';

const BASE: PlanPoint = { id: 'B1', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
const SETUP = setupOf({ kind: 'given', base: BASE } as never);
const ABOUT = {} as Parameters<ReturnType<typeof createPlanReportCollector>['report']>[1];
const close = (value: number, digits = 3): unknown => expect.closeTo(value, digits);

const planned = (
  id: string,
  azimuthDeg: number,
  distanceM: number,
  own: Partial<PlannedTarget> = {},
): PlannedTarget => {
  const end = geodesic.direct(BASE.latitudeDeg, BASE.longitudeDeg, azimuthDeg, distanceM);
  return {
    target: target(id, end.latitudeDeg, end.longitudeDeg),
    base: BASE,
    prediction: { baselineM: distanceM },
    at: { uncertainty: { circle95M: 0.02, vertical95M: 0.04 } },
    verdict: 'within',
    wayOut: 'none',
    ...own,
  } as unknown as PlannedTarget;
};
function reportOf(targets: readonly PlannedTarget[], more: Partial<PlanResults> = {}): PlanReport {
  const collector = createPlanReportCollector(null);
  for (const one of targets) collector.add(one);
  return collector.report(
    {
      setup: SETUP,
      grid: null,
      bases: [BASE],
      ranges: [],
      siting: { found: { kind: 'given' }, excluded: [] } as never,
      totals: createPlanTotals(),
      days: null,
      dayCount: null,
      stream: null,
      cautions: [],
      ...more,
    },
    ABOUT,
  );
}

describe('the page of a plan', () => {
  it('says that what is left fits into no day where fewer were laid out than asked for', () => {
    const day = (baseId: string, left: number): never =>
      ({
        baseId,
        timetable: { visits: [], leftOut: Array.from({ length: left }, () => ({ pointId: 'N', occupation: 1 })) },
      }) as never;
    const fits = (days: readonly never[], dayCount: number): boolean => reportOf([], { days, dayCount }).fitsNoDay;
    expect(fits([day('B1', 2)], 3)).toBe(true);
    expect(fits([day('B1', 2)], 1)).toBe(false);
    expect(fits([day('B1', 4), day('B1', 0)], 3)).toBe(false);
    expect(fits([day('B1', 0), day('B2', 1)], 2)).toBe(true);
    expect(reportOf([]).fitsNoDay).toBe(false);
  });

  it('lays places out by distance and azimuth from the first base where there is no grid', () => {
    const { targets, systemName, bases } = reportOf([
      planned('N', 0, 1000),
      planned('E', 90, 2000),
      planned('SW', 225, 1000),
    ]);
    expect(systemName).toBe('distances and azimuths from base B1');
    expect(targets.map(({ id, place }) => [id, place])).toEqual([
      ['N', { first: close(0), second: close(1000) }],
      ['E', { first: close(2000), second: close(0) }],
      // Both parts are 1000/√2.
      ['SW', { first: close(-707.107), second: close(-707.107) }],
    ]);
    expect(bases[0]?.place).toEqual({ first: close(0), second: close(0) });
  });

  it('lays them out in the grid where there is one', () => {
    const grid = valueOf(loadGridSystem('EPSG:32734'));
    const pair = { first: 0, second: 0 };
    expect(grid.forward(BASE.latitudeDeg, BASE.longitudeDeg, pair)).toBe('ok');
    const { bases, systemName } = reportOf([], { grid });
    expect(bases[0]?.place).toEqual({ first: close(pair.first), second: close(pair.second) });
    expect(systemName).toContain('32734');
  });

  it('says of each target its base, its figures and the way out', () => {
    const ways = ['none', 'longer', 'repeat', 'nearer-base', 'tolerance'] as const;
    const { targets } = reportOf(
      ways.map((wayOut, index) =>
        planned(wayOut, 0, 1000 + index, { wayOut, verdict: wayOut === 'none' ? 'within' : 'outside' }),
      ),
    );
    expect(targets.map(({ id, isWithin, wayOut }) => [id, isWithin, wayOut])).toEqual(
      expect.arrayContaining([
        ['none', true, ''],
        ['longer', false, 'longer occupation'],
        ['repeat', false, 'repeats apart in time'],
        ['nearer-base', false, 'a nearer base'],
        ['tolerance', false, 'cannot be met at any distance'],
      ]),
    );
    const line = planned('L', 0, 10);
    expect(reportOf([{ ...line, target: { ...line.target, kind: 'line' } as never }]).targets[0]).toMatchObject({
      isPoint: false,
      baseId: 'B1',
      baselineM: 10,
      toleranceHorizontalM: 0.05,
      toleranceVerticalM: 0.1,
      circle95M: 0.02,
      vertical95M: 0.04,
    });
    expect(reportOf([line]).targets[0]?.isPoint).toBe(true);
  });

  it('keeps two thousand targets, those outside before others', () => {
    const inside = Array.from({ length: 2001 }, (_, index) => planned(`I${String(index)}`, 0, 1000));
    const { targets } = reportOf([...inside, planned('out', 0, 1000, { verdict: 'outside', wayOut: 'longer' })]);
    expect(targets).toHaveLength(2000);
    expect(targets.some(({ id }) => id === 'out')).toBe(true);
  });

  it('shows a thousand visits of all days in order, and all that was left out', () => {
    const visits = (count: number): readonly object[] =>
      Array.from({ length: count }, (_, index) => ({ pointId: `P${String(index)}`, role: 'work', occupation: 1 }));
    const day = (baseId: string, count: number): object => ({
      baseId,
      timetable: { visits: visits(count), leftOut: [{ pointId: 'X', occupation: 2 }] },
    });
    const report = reportOf([], { days: [day('B1', 600), day('B2', 600)] as never });
    expect(report.visitCount).toBe(1200);
    expect(report.visits).toHaveLength(1000);
    expect([report.visits?.[0]?.baseId, report.visits?.[599]?.baseId, report.visits?.[600]?.baseId]).toEqual([
      'B1',
      'B1',
      'B2',
    ]);
    expect(report.leftOut).toEqual([
      { baseId: 'B1', pointId: 'X', occupation: 2 },
      { baseId: 'B2', pointId: 'X', occupation: 2 },
    ]);
    expect(reportOf([])).toMatchObject({ visits: null, visitCount: 0, leftOut: [] });
  });

  it('ranks two hundred candidates where the best was looked for, and marks those that were chosen', () => {
    const ranked = (id: string): object => ({
      candidate: candidate(id, -31, 21, { cellular: true, skyScore: 0.9, cost: 3 }),
      worstRatio: 1.5,
      worstDistanceM: 9000,
      servedCount: 7,
      worstPoints: ['P1'],
    });
    const found = {
      kind: 'best',
      ranking: [ranked('B1'), ...Array.from({ length: 203 }, (_, index) => ranked(`C${String(index)}`))],
    };
    const { ranking } = reportOf([], { siting: { found, excluded: [] } as never });
    expect(ranking?.candidates).toHaveLength(200);
    expect(ranking?.candidates[0]).toEqual({
      id: 'B1',
      isChosen: true,
      worstRatio: 1.5,
      worstDistanceM: 9000,
      served: 7,
      worstPlaces: ['P1'],
      cellular: true,
      skyScore: 0.9,
      cost: 3,
    });
    expect(ranking?.candidates[1]?.isChosen).toBe(false);
    expect(reportOf([]).ranking).toBeNull();
  });
});

describe('the curves of a plan', () => {
  const range = (rangeM: number): never =>
    ({ byConditions: [{ conditions: 'normal', range: { rangeM, decidedBy: 'horizontal' } }] }) as never;
  const farthest = (ranges: readonly number[], longestBaselineM: number): number | undefined =>
    curvesOf(SETUP, BASE, ranges.map(range), longestBaselineM)[0]?.places.at(-1)?.distanceM;
  it('go a tenth beyond the range, and no farther than is looked at', () => {
    // A tenth beyond 12 km; the longest baseline of 10 km and a fifth is less.
    expect(farthest([12_000], 10_000)).toBeCloseTo(13_200, 3);
    // No more than 1.6 times the longest baseline, or 5 km where that is shorter; never less than 10 km.
    expect(farthest([100_000], 10_000)).toBeCloseTo(16_000, 3);
    expect(farthest([100_000], 1000)).toBeCloseTo(10_000, 3);
    expect(farthest([], 20_000)).toBeCloseTo(24_000, 3);
    expect(farthest([], 500_000)).toBeCloseTo(200_000, 3);
  });

  it('begin at the base, and rise with distance, in 48 steps', () => {
    const [curve] = curvesOf(SETUP, BASE, [], 20_000);
    expect(curve?.places).toHaveLength(49);
    expect(curve?.places[0]?.distanceM).toBeCloseTo(0, 6);
    const figures = curve?.places.map(({ circle95M }) => circle95M) ?? [];
    expect(figures.every((value, index) => index === 0 || value >= (figures[index - 1] as number))).toBe(true);
  });
});

describe('the cautions of a plan', () => {
  const placed = (base: PlanPoint | undefined): never => ({ bases: base === undefined ? [] : [base] }) as never;
  const texts = (
    startMs: number | null,
    month: number | null,
    hours = 8,
    base: PlanPoint | undefined = BASE,
  ): readonly string[] =>
    planCautions(placed(base), [], { startMs, month }, hours, null, [])
      .filter(({ id }) => id.startsWith('ionosphere'))
      .map(({ text }) => text);

  it('name hours by the sun where no start is said; the winter half of the year where no month is', () => {
    expect(texts(null, null)).toEqual([
      expect.stringMatching(/^From 9 to 15 h local solar time in the winter half of the year: /u),
    ]);
    // July is winter at 31° south, January is not.
    expect(texts(null, 7)).toEqual([expect.stringMatching(/^From 9 to 15 h local solar time: /u)]);
    expect(texts(null, 1)).toEqual([]);
    const tropic = { ...BASE, latitudeDeg: -10 };
    expect(texts(null, null, 8, tropic)).toEqual([expect.stringMatching(/^From 18 to 2 h local solar time: /u)]);
  });

  it('say how many of the planned hours meet them', () => {
    // At 21.4° east the sun is 1.43 h ahead of UTC: from 6 h UTC for 8 hours is 7.43 to 15.43 h, which meets 9 to 15 h whole.
    const day = Date.UTC(2026, 6, 1);
    expect(texts(day + 6 * 3_600_000, 7)).toEqual([expect.stringMatching(/^6\.0 h of the planned hours: /u)]);
    // From 10 h UTC it is 11.43 h: 3.57 h are left of it.
    expect(texts(day + 10 * 3_600_000, 7)).toEqual([expect.stringMatching(/^3\.6 h of the planned hours: /u)]);
    expect(texts(day + 15 * 3_600_000, 7)).toEqual([]);
    // Before 1970 the hour of the day is the same.
    expect(texts(Date.UTC(1969, 6, 1, 10), 7)).toEqual([expect.stringMatching(/^3\.6 h/u)]);
  });

  it('come from the site, the stream and the days, those of several days with their base', () => {
    const caution = (id: string): Caution => ({ id, text: id, source: '' });
    const day = (baseId: string): never => ({ baseId, timetable: { cautions: [caution('late')] } }) as never;
    const all = (days: readonly never[]): readonly string[] =>
      planCautions(
        placed(undefined),
        [caution('site')],
        { startMs: null, month: null },
        8,
        { cost: { cautions: [caution('stream')] } } as never,
        days,
      ).map(({ text }) => text);
    expect(all([day('B1')]).slice(-3)).toEqual(['site', 'stream', 'late']);
    expect(all([day('B1'), day('B2')]).slice(-2)).toEqual(['Base B1: late', 'Base B2: late']);
  });

  it('of a place say what speaks for it: geometry alone, or no network that is known', () => {
    const bases = {
      bases: [
        { ...BASE, id: 'C1' },
        { ...BASE, id: 'C2' },
        { ...BASE, id: 'C3' },
      ],
    } as never;
    const ids = (siting: object): readonly string[] => siteCautions(siting as never, bases).map(({ id }) => id);
    expect(ids({ kind: 'given' })).toEqual([]);
    expect(ids({ kind: 'free' })).toEqual(['place-is-geometry']);
    const of = (...cellular: readonly (boolean | null)[]): object => ({
      kind: 'best',
      ...choice(cellular.map((own, index) => candidate(`C${String(index + 1)}`, 0, 0, { cellular: own }))),
    });
    expect(ids(of(true, true, true))).toEqual([]);
    expect(siteCautions(of(true, false, null) as never, bases)[0]?.text).toContain('is known at C2, C3: a base');
  });
});

describe('points of a plan', () => {
  const systems = { grid: null, fixesSystem: { name: 'anywhere', areaOfUse: null }, geoid: null, sources: ['p.csv'] };
  const at = { latitudeDeg: -31, longitudeDeg: 21 };
  it('may have a second occupation, whose place does not count; the same one twice is refused', () => {
    const rows = (first: string, second: string) =>
      locateRows([pointRow({ ...at, occupation: first }), pointRow({ ...at, occupation: second })], systems);
    for (const [first, second] of [
      ['1', '2'],
      ['', '1'],
    ] as const) {
      const made = rows(first, second);
      expect(made.ok && made.value.map(({ row }) => row.occupation)).toEqual([first]);
    }
    for (const [first, second] of [
      ['1', '1'],
      ['', ''],
      ['1', ''],
    ] as const) {
      const made = rows(first, second);
      expect(!made.ok && made.problems.map(({ code, message }) => [code, message])).toEqual([
        ['value-duplicate-id', 'point P1 stands in line 2 already'],
      ]);
    }
  });

  it('without a place are left out, by half a place as well', () => {
    const made = locateRows(
      [
        pointRow({ pointId: 'A', latitudeDeg: -31 }),
        pointRow({ pointId: 'B', longitudeDeg: 21 }),
        pointRow({ pointId: 'C', gridFirst: 1, gridSecond: 2 }),
        pointRow({ pointId: 'D', ...at, orthometricHeightM: 5 }),
      ],
      systems,
    );
    expect(made.ok && made.value.map(({ id, ellipsoidalHeightM }) => [id, ellipsoidalHeightM])).toEqual([['D', null]]);
  });
});
